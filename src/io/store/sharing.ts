import type { DatabaseSyncInstance as Database } from "@photostructure/sqlite";
import { grouped } from "../../domain/keys.ts";
import { PHOTO_FILE } from "../../run/events/by-hand.ts";
import { breakAt, type ChainedEvent, hashOf, NO_HASH } from "../../run/events/chain.ts";
import { EVENT_VERSION } from "../../run/events/event.ts";
import { isNameless } from "../../run/events/summary.ts";
import type { ChainStore, Refusal } from "../../run/sharing/exchange.ts";
import { headOf, ownOrigin } from "./appending.ts";
import { inTransaction, ownFrom, TRIGGERS } from "./database.ts";
import { headFile } from "./journal-files.ts";
import { EVENT_COLUMNS, foreignId, newOrigin, PUT_EVENT, storedRows } from "./row.ts";

/** The journal's side of an exchange with other benches, and what is told of them. */
export interface Sharing extends ChainStore {
  /** How many events of other benches only a newer Limber can read; they are kept. */
  newer(): number;
  /** Fixtures that are open here and at another bench, or at two others. The derived tables must have caught up. */
  openTwice(): readonly OpenTwice[];
  /** Photos named in events that came since `photosDone` was last told. */
  photos(): NamedPhotos;
  /** Notes that the photos of all events up to the sequence number `upto` were exchanged. */
  photosDone(upto: number): void;
  /** From now on that shop is listened to as well; all photos that are named here are looked for anew. */
  follow(shop: string): void;
  /** How the last exchange ended, in the words of whoever made it. */
  note(text: string): void;
  noted(): string | undefined;
}

/** Photos by the names of their files. */
interface NamedPhotos {
  readonly names: readonly string[];
  /** Those of them that events of this bench name. */
  readonly own: readonly string[];
  /** Up to where the events go that were looked at. */
  readonly upto: number;
}

/** One serial number, several unfinished runs at different benches. */
export interface OpenTwice {
  readonly serial: string;
  readonly runs: readonly { readonly run: string; readonly origin: string }[];
}

/** What exchanging events with other benches needs of an open journal. */
export const sharingOf = (database: Database, file: string): Sharing => {
  const hashes = database.prepare("SELECT lower(hex(hash)) AS hash FROM events WHERE origin = ? AND number = ?");
  const chain = database.prepare(
    `SELECT ${EVENT_COLUMNS} FROM events WHERE origin = ? AND number > ? ORDER BY number LIMIT ?`,
  );
  return {
    owns: () => ownsIn(database),
    follows: () =>
      database
        .prepare("SELECT note FROM marks WHERE what = 'follows' ORDER BY rowid")
        .all()
        .map((row) => String(row["note"])),
    follow: (shop) =>
      inTransaction(database, () => {
        database.prepare("DELETE FROM marks WHERE what = 'follows' AND note = ?").run(shop);
        database.prepare("INSERT INTO marks VALUES ('follows', '', 0, ?)").run(shop);
        database.exec("DELETE FROM marks WHERE what = 'photos'");
      }),
    head: (origin) => headOf(database, origin),
    hashAt: (origin, number) => {
      const row = hashes.get(origin, number);
      return row && String(row["hash"]);
    },
    chain: (origin, after, most) => storedRows(chain, origin, after, most),
    receive: (events) => receive(database, events),
    rehome: (origin, from) => rehome(database, file, origin, from),
    renew: () => {
      const fresh = newOrigin();
      inTransaction(database, () => ownFrom(database, fresh));
      return fresh;
    },
    newer: () => Number(database.prepare(`SELECT count(*) AS n FROM events WHERE v > ${EVENT_VERSION}`).get()["n"]),
    openTwice: () => openTwice(database),
    photos: () => photosIn(database),
    photosDone: (upto) =>
      inTransaction(database, () => {
        database.exec("DELETE FROM marks WHERE what = 'photos'");
        database.prepare("INSERT INTO marks VALUES ('photos', '', ?, '')").run(upto);
      }),
    note: (text) =>
      inTransaction(database, () => {
        database.exec("DELETE FROM marks WHERE what = 'exchange'");
        database.prepare("INSERT INTO marks VALUES ('exchange', '', 0, ?)").run(text);
      }),
    noted: () => {
      const row = database.prepare("SELECT note FROM marks WHERE what = 'exchange'").get();
      return row && String(row["note"]);
    },
  };
};

const FRESH_PHOTOS = `
  SELECT json_extract(event, '$.body.file') AS file, max(origin IN (SELECT origin FROM marks WHERE what = 'own')) AS own FROM events
  WHERE serial > (SELECT coalesce(max(number), 0) FROM marks WHERE what = 'photos') AND serial <= ? AND kind = 'photo-taken'
  GROUP BY file
`;

/** A name from another bench that is none is left out: it would become a path. */
const photosIn = (database: Database): NamedPhotos => {
  const upto = Number(database.prepare("SELECT coalesce(max(serial), 0) AS upto FROM events").get()["upto"]);
  const photos = database
    .prepare(FRESH_PHOTOS)
    .all(upto)
    .map(({ file, own }) => ({ name: String(file), own: Number(own) === 1 }))
    .filter(({ name }) => PHOTO_FILE.test(name));
  const namesOf = (some: typeof photos) => some.map(({ name }) => name);
  return { names: namesOf(photos), own: namesOf(photos.filter(({ own }) => own)), upto };
};

const ownsIn = (database: Database): readonly string[] =>
  database
    .prepare("SELECT origin FROM marks WHERE what = 'own' ORDER BY rowid")
    .all()
    .map((row) => String(row["origin"]));

const receive = (database: Database, events: readonly ChainedEvent[]): Refusal | undefined => {
  const take = taker(database);
  let broken: Refusal | undefined;
  inTransaction(database, () => {
    for (const one of events) {
      const why = take(one);
      if (why === undefined) continue;
      broken = { origin: one.origin, number: one.number, why };
      return;
    }
  });
  return broken;
};

/** Takes in one event, or says why not. */
const taker = (database: Database): ((one: ChainedEvent) => string | undefined) => {
  const put = database.prepare(PUT_EVENT);
  const owns = new Set(ownsIn(database));
  const taken = database.prepare("SELECT 1 FROM events WHERE id = ?");
  return (one) => {
    const { origin, number, time, counter, before, hash, event } = one;
    const head = headOf(database, origin);
    // Known already: sent twice, or taken in by another program meanwhile.
    if (head && number <= head.number) return undefined;
    const broken = breakAt(head, one);
    if (broken !== undefined) return broken;
    const filed = filedUnder(event);
    if (!filed) return "its content is no event";
    const id = owns.has(origin) && !taken.get(filed.id) ? filed.id : foreignId(origin, filed.id);
    put.run(id, filed.run, filed.at, filed.v, filed.kind, event, origin, number, time, counter, before, hash);
    return undefined;
  };
};

interface FiledUnder {
  readonly id: string;
  readonly run: string;
  readonly at: string;
  readonly v: number;
  readonly kind: string;
}

/** What an event is looked up by, also one that only a newer program understands. */
const filedUnder = (text: string): FiledUnder | undefined => {
  try {
    const { id, run, at, v, body } = JSON.parse(text);
    const kind: unknown = body?.kind;
    const texts = [id, run, at, kind].every((one) => typeof one === "string" && !one.includes("\0"));
    return texts && Number.isInteger(v) ? { id, run, at, v, kind: String(kind) } : undefined;
  } catch {
    return undefined;
  }
};

/** Their places in the chain are all that changes: what they say and when it was written stays. */
const rehome = (database: Database, file: string, origin: string, from: number): string => {
  const fresh = newOrigin();
  inTransaction(database, () => {
    const chain = `SELECT ${EVENT_COLUMNS} FROM events WHERE origin = ? AND number >= ? ORDER BY number`;
    const rows = storedRows(database.prepare(chain), origin, from);
    database.exec("DROP TRIGGER events_stay; DROP TRIGGER events_keep");
    const move = database.prepare(
      "UPDATE events SET origin = ?, number = ?, before = unhex(?), hash = unhex(?) WHERE serial = ?",
    );
    let before = NO_HASH;
    for (const [index, { serial, time, counter, event }] of rows.entries()) {
      const hash = hashOf({ origin: fresh, number: index + 1, time, counter, before }, event);
      move.run(fresh, index + 1, before, hash, serial);
      before = hash;
    }
    // The derived tables name events by their bench.
    database.exec(`${TRIGGERS} DROP TABLE IF EXISTS fold`);
    database.prepare("INSERT INTO marks VALUES ('moved', ?, ?, ?)").run(origin, from, fresh);
    ownFrom(database, fresh);
  });
  const note = headFile(file);
  const head = headOf(database, ownOrigin(database));
  if (head) note.write(head);
  note.close();
  return fresh;
};

const OPEN_RUNS = `
  SELECT fixture, json_extract(brief, '$.serial') AS serial, run, substr(begun, -12) AS origin FROM runs
  WHERE json_extract(brief, '$.ended') = 'open' AND NOT json_extract(brief, '$.simulated') ORDER BY fixture, begun
`;

const openTwice = (database: Database): readonly OpenTwice[] => {
  const rows = database
    .prepare(OPEN_RUNS)
    .all()
    .map((row) => ({
      fixture: String(row["fixture"]),
      serial: String(row["serial"]),
      run: String(row["run"]),
      origin: String(row["origin"]),
    }));
  return grouped(rows, ({ fixture }) => fixture)
    .filter(([{ serial }]) => !isNameless(serial))
    .filter((runs) => new Set(runs.map(({ origin }) => origin)).size > 1)
    .map((runs) => ({ serial: runs[0].serial, runs: runs.map(({ run, origin }) => ({ run, origin })) }));
};

import type { DatabaseSyncInstance as Database } from "@photostructure/sqlite";
import { type ChainHead, type ClockTime, DAWN, hashOf, NO_HASH, nextStamp } from "../../run/events/chain.ts";
import { inTransaction, ownFrom } from "./database.ts";
import { headFile } from "./journal-files.ts";
import { type EventRow, newOrigin, PUT_EVENT } from "./row.ts";

/** Writes events at the end of this journal's own chain. */
export interface Appending {
  /** All of them are on disk when this returns, or none. An event that is there already is not written twice. */
  insert(rows: readonly EventRow[]): void;
  /** The last event of the own chain; undefined before the first. */
  head(): ChainHead | undefined;
  close(): void;
}

/**
 * Writes at the end of this journal's own chain, under a bench id that is made here where there is none yet. A journal that
 * is older than the note beside it goes on under a new bench id.
 */
export const appendingTo = (database: Database, file: string): Appending => {
  const note = headFile(file);
  if (database.prepare(OWN).get() === undefined) ownFrom(database, newOrigin());
  turnAside(database, note.read());
  const put = database.prepare(PUT_EVENT);
  const there = database.prepare("SELECT event FROM events WHERE id = ?");
  const append = (row: EventRow): void => {
    const same = there.get(row.id);
    // A sender that never heard "stored" may send again: the same event is welcome, another under its id is our own bug.
    if (same && same["event"] !== row.event) throw new Error(`Bug: another event has the id ${row.id}`);
    if (same) return;
    const origin = ownOrigin(database);
    const head = headOf(database, origin);
    const link = {
      ...nextStamp(latestClock(database), row.at, origin),
      number: (head?.number ?? 0) + 1,
      before: head?.hash ?? NO_HASH,
    };
    const hash = hashOf(link, row.event);
    const { id, run, at, v, kind, event } = row;
    put.run(id, run, at, v, kind, event, origin, link.number, link.time, link.counter, link.before, hash);
  };
  const head = () => headOf(database, ownOrigin(database));
  return {
    insert: (rows) => {
      inTransaction(database, () => rows.forEach(append));
      const last = head();
      if (last) note.write(last);
    },
    head,
    close: () => note.close(),
  };
};

const OWN = "SELECT origin FROM marks WHERE what = 'own' ORDER BY rowid DESC LIMIT 1";

/** The bench id under which this journal writes. */
export const ownOrigin = (database: Database): string => String(database.prepare(OWN).get()?.["origin"]);

/** The last event of a bench's chain in this journal; undefined before the first. */
export const headOf = (database: Database, origin: string): ChainHead | undefined => {
  const row = database
    .prepare("SELECT number, lower(hex(hash)) AS hash FROM events WHERE origin = ? ORDER BY number DESC LIMIT 1")
    .get(origin);
  return row && { origin, number: Number(row["number"]), hash: String(row["hash"]) };
};

/** The highest that is known of any bench. */
const latestClock = (database: Database): ClockTime => {
  const row = database.prepare("SELECT time, counter FROM events ORDER BY time DESC, counter DESC LIMIT 1").get();
  return row ? { time: Number(row["time"]), counter: Number(row["counter"]) } : DAWN;
};

/** Whether this event of this chain is in the journal, with this hash or one that begins so. */
export const hasHead = (database: Database, { origin, number, hash }: ChainHead): boolean => {
  const row = database
    .prepare("SELECT lower(hex(hash)) AS hash FROM events WHERE origin = ? AND number = ?")
    .get(origin, number);
  return String(row?.["hash"] ?? "").startsWith(hash);
};

const ENDED = "SELECT 1 FROM marks WHERE what = 'ended' AND origin = ? AND number = ?";

/**
 * This computer remembers a later end of the chain than the file has: an older copy was put back, or its end is lost.
 * What is written from now on gets a new bench id, since its numbers would be used twice; that the end is missing stays marked.
 */
const turnAside = (database: Database, known: ChainHead | undefined): void => {
  if (!known || hasHead(database, known) || database.prepare(ENDED).get(known.origin, known.number)) return;
  inTransaction(database, () => {
    database.prepare("INSERT INTO marks VALUES ('ended', ?, ?, ?)").run(known.origin, known.number, known.hash);
    if (ownOrigin(database) === known.origin) ownFrom(database, newOrigin());
  });
};

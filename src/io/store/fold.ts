import type { DatabaseSyncInstance as Database } from "@photostructure/sqlite";
import { passedAgain } from "../../run/events/cases.ts";
import { type Digest, digestOf, type ProfileOf } from "../../run/events/digest.ts";
import { isNameless } from "../../run/events/no-serial.ts";
import { wasPressed } from "../../run/events/which.ts";
import { inTransaction } from "./database.ts";
import { FIXTURE_TABLE, unsettle } from "./fixtures.ts";
import { fromRow, type StoredRow } from "./row.ts";

/** How far the derived tables have come: the serial number of the last event taken in, and how many events are newer. */
export interface Progress {
  readonly upto: number;
  readonly left: number;
}

/** A new release may read the same events differently; within one, raise the last number when the rows change. */
export const FOLD = "0.1.0 / 4";

/** Derived from the events, disposable. `begun` is the serial number of the run's first event. */
const TABLES = `
  DROP TABLE IF EXISTS fold;
  DROP TABLE IF EXISTS runs;
  CREATE TABLE fold (version TEXT NOT NULL, upto INTEGER NOT NULL) STRICT;
  INSERT INTO fold VALUES ('${FOLD}', 0);
  CREATE TABLE runs (
    begun INTEGER PRIMARY KEY,
    run TEXT NOT NULL UNIQUE,
    fixture TEXT NOT NULL,
    passed_again TEXT,
    pressed INTEGER NOT NULL,
    brief TEXT NOT NULL,
    lesson TEXT
  ) STRICT;
  CREATE INDEX runs_of_fixture ON runs (fixture);
  CREATE INDEX runs_pressed ON runs (begun) WHERE pressed = 1;
  CREATE INDEX runs_that_teach ON runs (begun) WHERE lesson IS NOT NULL;
  CREATE INDEX runs_passed_again ON runs (passed_again) WHERE passed_again IS NOT NULL;
  ${FIXTURE_TABLE}
`;

export const progressOf = (database: Database): Progress => {
  const upto = uptoIn(database) ?? 0;
  const { left } = database.prepare("SELECT count(*) AS left FROM events WHERE serial > ?").get(upto);
  return { upto, left: Number(left) };
};

/** Undefined where there are no tables of this version. */
export const uptoIn = (database: Database): number | undefined => {
  if (!database.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'fold'").get()) return undefined;
  const row = database.prepare("SELECT upto FROM fold WHERE version = ?").get(FOLD);
  return row && Number(row["upto"]);
};

/** Takes in at most so many new events, all or none of them. Throws JournalError for an event that cannot be read. */
export const takeIn = (database: Database, file: string, profileOf: ProfileOf, most: number): Progress => {
  const before = progressOf(database);
  if (before.left === 0 && uptoIn(database) !== undefined) return before;
  inTransaction(database, () => {
    if (uptoIn(database) === undefined) database.exec(TABLES);
    foldNext(database, file, profileOf, most);
  });
  return progressOf(database);
};

/** Forgets all that was derived; the events stay. */
export const forget = (database: Database): void => inTransaction(database, () => database.exec(TABLES));

/** Every run that has a new event is folded anew from all of its events, so that corrections need no rule of their own. */
const foldNext = (database: Database, file: string, profileOf: ProfileOf, most: number): void => {
  const fresh = database
    .prepare("SELECT serial, run FROM events WHERE serial > ? ORDER BY serial LIMIT ?")
    .all(uptoIn(database), most);
  const ofRun = database.prepare("SELECT serial, v, event FROM events WHERE run = ? ORDER BY serial");
  const put = putter(database);
  for (const run of new Set(fresh.map((row) => row["run"]))) {
    const rows = ofRun.all(run) as StoredRow[];
    const digest = digestOf(
      rows.map((row) => fromRow(row, file)),
      profileOf,
    );
    if (digest) put(rows[0]?.serial ?? 0, digest);
    if (digest && !isNameless(digest.brief.serial)) unsettle(database, digest.brief.serial);
  }
  const last = fresh.at(-1);
  if (last) database.prepare("UPDATE fold SET upto = ?").run(last["serial"]);
};

const putter = (database: Database): ((begun: number, digest: Digest) => void) => {
  const put = database.prepare("INSERT OR REPLACE INTO runs VALUES (?, ?, ?, ?, ?, ?, ?)");
  return (begun, { brief, lesson }) => {
    const kept = lesson ? JSON.stringify(lesson) : null;
    const again = passedAgain(brief) ?? null;
    put.run(begun, brief.run, brief.serial, again, Number(wasPressed(brief)), JSON.stringify(brief), kept);
  };
};

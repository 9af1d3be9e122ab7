import type { DatabaseSyncInstance as Database } from "@photostructure/sqlite";
import { identityKey } from "../../domain/problem/identity.ts";
import { orderKey } from "../../run/events/chain.ts";
import { type Digest, digestOf, type ProfileOf, passedAgain } from "../../run/events/digest.ts";
import { isNameless, wasPressed } from "../../run/events/summary.ts";
import { inTransaction } from "./database.ts";
import { type Cell, EVENT_COLUMNS, fromRow, proofOf, readableHere, storedRows } from "./row.ts";

/** How far the derived tables have come: the serial number of the last event taken in, and how many events are newer. */
export interface FoldProgress {
  readonly upto: number;
  readonly left: number;
}

/** A new release may read the same events differently; within one, raise the last number when the rows change. */
export const FOLD = "0.1.0 / 14";

/**
 * Derived from the events, disposable. `begun` is the place of the run's first event in the one order of events: benches
 * that have the same events have the same rows. `proof` is a row's own checksum. Of a fixture, `standing` is NULL where it is to be calculated again.
 */
const TABLES = `
  DROP TABLE IF EXISTS fold;
  DROP TABLE IF EXISTS runs;
  DROP TABLE IF EXISTS fixtures;
  CREATE TABLE fold (version TEXT NOT NULL, upto INTEGER NOT NULL, proof TEXT NOT NULL) STRICT;
  CREATE TABLE runs (
    run TEXT PRIMARY KEY,
    begun TEXT NOT NULL UNIQUE,
    fixture TEXT NOT NULL,
    passed_again TEXT,
    pressed INTEGER NOT NULL,
    brief TEXT NOT NULL,
    lesson TEXT,
    proof TEXT NOT NULL
  ) STRICT;
  CREATE INDEX runs_of_fixture ON runs (fixture);
  CREATE INDEX runs_pressed ON runs (begun) WHERE pressed = 1;
  CREATE INDEX runs_that_teach ON runs (begun) WHERE lesson IS NOT NULL;
  CREATE INDEX runs_passed_again ON runs (passed_again) WHERE passed_again IS NOT NULL;
  CREATE TABLE fixtures (fixture TEXT PRIMARY KEY, standing TEXT, proof TEXT NOT NULL) STRICT;
`;

/** How far the derived tables have come: the last event that is in them, and how many are left. */
export const progressOf = (database: Database): FoldProgress => {
  const upto = uptoIn(database) ?? 0;
  const { left } = database.prepare("SELECT count(*) AS left FROM events WHERE serial > ?").get(upto);
  return { upto, left: Number(left) };
};

/**
 * The sequence number of the last event that is in the derived tables, from 0. Undefined where there are no
 * tables of this version, or they are spoilt.
 */
export const uptoIn = (database: Database): number | undefined => {
  if (!database.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'fold'").get()) return undefined;
  const row = database.prepare("SELECT * FROM fold").get();
  if (!row || row["version"] !== FOLD) return undefined;
  const upto = Number(row["upto"]);
  return row["proof"] === proofOf(FOLD, upto) ? upto : undefined;
};

/**
 * Takes new events into the derived tables, all or none of them. `most` is how many at most, from 1. Throws
 * JournalError for an event that cannot be read.
 */
export const takeIn = (database: Database, file: string, profileOf: ProfileOf, most: number): FoldProgress => {
  const before = progressOf(database);
  if (before.left === 0 && uptoIn(database) !== undefined) return before;
  inTransaction(database, () => {
    if (uptoIn(database) === undefined) makeTables(database);
    foldNext(database, file, profileOf, most);
  });
  return progressOf(database);
};

/** Forgets all that was derived; the events stay. */
export const forget = (database: Database): void => inTransaction(database, () => makeTables(database));

const makeTables = (database: Database): void => {
  database.exec(TABLES);
  database.prepare("INSERT INTO fold VALUES (?, 0, ?)").run(FOLD, proofOf(FOLD, 0));
};

/** Every run that has a new event is folded again from all of its events, so that corrections need no rule of their own. */
const foldNext = (database: Database, file: string, profileOf: ProfileOf, most: number): void => {
  const fresh = database
    .prepare("SELECT serial, run FROM events WHERE serial > ? ORDER BY serial LIMIT ?")
    .all(uptoIn(database), most);
  const put = database.prepare("INSERT OR REPLACE INTO runs VALUES (?, ?, ?, ?, ?, ?, ?, ?)");
  for (const run of new Set(fresh.map((row) => String(row["run"])))) {
    const row = runRow(database, file, profileOf, run);
    if (!row) continue;
    put.run(...row, proofOf(...row));
    const [, , serial] = row;
    if (!isNameless(serial)) unsettle(database, serial);
  }
  const last = fresh.at(-1);
  if (last) {
    const upto = Number(last["serial"]);
    database.prepare("UPDATE fold SET upto = ?, proof = ?").run(upto, proofOf(FOLD, upto));
  }
};

const RUN_EVENTS = `SELECT ${EVENT_COLUMNS} FROM events WHERE run = ? ORDER BY time, counter, origin`;

type RunRow = readonly [run: string, begun: string, fixture: string, ...rest: Cell[]];

/** What the events of a run say, as it is kept ready; undefined for a run that never began. */
export const runRow = (database: Database, file: string, profileOf: ProfileOf, run: string): RunRow | undefined => {
  const rows = readableHere(storedRows(database.prepare(RUN_EVENTS), run));
  const [first] = rows;
  const digest = digestOf(
    rows.map((row) => fromRow(row, file)),
    profileOf,
  );
  return first && digest && cellsOf(orderKey(first), digest);
};

const cellsOf = (begun: string, { brief, lesson }: Digest): RunRow => [
  brief.run,
  begun,
  identityKey(brief.serial),
  passedAgain(brief) ?? null,
  Number(wasPressed(brief)),
  JSON.stringify(brief),
  lesson ? JSON.stringify(lesson) : null,
];

/** A run of this fixture has new events. */
const unsettle = (database: Database, serial: string): void => {
  database.prepare("INSERT OR REPLACE INTO fixtures VALUES (?, NULL, '')").run(serial);
};

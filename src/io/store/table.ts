import { closeSync, fsyncSync, openSync, rmSync } from "node:fs";
import type { DatabaseSyncInstance as Database } from "@photostructure/sqlite";
import type { Seconds } from "../../domain/units.ts";
import { inTransaction, openDatabase } from "./database.ts";
import { type Derived, derivedIn } from "./derived.ts";
import { createPrivate } from "./private.ts";
import type { Row, StoredRow } from "./row.ts";
import { inPlainWords } from "./trouble.ts";

/** The journal on disk, as the worker thread holds it. Every function blocks until done and throws JournalError when the world is wrong. */
export interface Table {
  /** All of them are on disk when this returns, or none. An event that is there already is not written twice. */
  insert(rows: readonly Row[]): void;
  /** At most `limit` rows after that serial number, in the order of writing; of one run, or all. */
  page(run: string | undefined, after: number, limit: number): readonly StoredRow[];
  /** Writes a whole copy while the journal is in use. */
  backup(file: string): void;
  readonly derived: Derived;
  close(): void;
}

export const openTable = (file: string, patience: Seconds): Table => {
  const database = told(file, () => openDatabase(file, patience));
  const insert = inserter(database);
  const all = database.prepare("SELECT serial, v, event FROM events WHERE serial > ? ORDER BY serial LIMIT ?");
  const ofRun = database.prepare(
    "SELECT serial, v, event FROM events WHERE run = ? AND serial > ? ORDER BY serial LIMIT ?",
  );
  return {
    insert: (rows) => told(file, () => inTransaction(database, () => rows.forEach(insert))),
    page: (run, after, limit) =>
      told(file, () => (run === undefined ? all.all(after, limit) : ofRun.all(run, after, limit)) as StoredRow[]),
    backup: (to) => told(to, () => copy(database, to)),
    derived: toldAll(file, derivedIn(database, file)),
    close: () => database.close(),
  };
};

const toldAll = (file: string, derived: Derived): Derived => ({
  catchUp: (most) => told(file, () => derived.catchUp(most)),
  briefs: (which, least) => told(file, () => derived.briefs(which, least)),
  teaching: (least) => told(file, () => derived.teaching(least)),
  standings: (which, least, most) => told(file, () => derived.standings(which, least, most)),
  forget: () => told(file, () => derived.forget()),
});

/** A sender that never heard "stored" may send again: the same event is welcome, another under its id is our own bug. */
const inserter = (database: Database): ((row: Row) => void) => {
  const put = database.prepare(
    "INSERT INTO events (id, run, at, v, kind, event) VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT (id) DO NOTHING",
  );
  const same = database.prepare("SELECT 1 FROM events WHERE id = ? AND event = ?");
  return ({ id, run, at, v, kind, event }) => {
    if (put.run(id, run, at, v, kind, event).changes === 0 && !same.get(id, event))
      throw new Error(`Bug: another event has the id ${id}`);
  };
};

/** SQLite does not sync what VACUUM INTO writes (sqlite.org/lang_vacuum.html). A failed copy is not left lying about. */
const copy = (database: Database, file: string): void => {
  createPrivate(file, "refused");
  try {
    database.prepare("VACUUM INTO ?").run(file);
    const copied = openSync(file, "r+");
    fsyncSync(copied);
    closeSync(copied);
  } catch (error) {
    rmSync(file);
    throw error;
  }
};

const told = <T>(file: string, work: () => T): T => {
  try {
    return work();
  } catch (error) {
    throw inPlainWords(error, file);
  }
};

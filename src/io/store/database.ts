import { existsSync, statSync } from "node:fs";
import { type DatabaseSyncInstance as Database, DatabaseSync } from "@photostructure/sqlite";
import type { Seconds } from "../../domain/units.ts";
import { type ClockTime, canonical, DAWN, hashOf, NO_HASH, nextStamp } from "../../run/events/chain.ts";
import { createPrivate, forgetHeadFile, headFileOf } from "./journal-files.ts";
import { newOrigin, PUT_EVENT } from "./row.ts";
import { damagedEvent, journalError } from "./trouble.ts";

/** "LMBR": tells our files from other programs' databases. */
const APPLICATION_ID = 0x4c4d4252;
/** The version of the tables. Events carry their own version. */
const FORMAT = 2;

/**
 * `serial` counts in the order in which events arrived here, of this bench and of others; `origin` to `hash` are an
 * event's place in the chain of its bench. `marks` keeps what the events cannot say of themselves: under which bench id
 * this journal writes ("own", the last one counts), up to which event a chain was once known ("ended"), and what a
 * person has accepted of what a check found ("accepted").
 */
const TABLES = `
  CREATE TABLE events (
    serial INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    run TEXT NOT NULL,
    at TEXT NOT NULL,
    v INTEGER NOT NULL,
    kind TEXT NOT NULL,
    event TEXT NOT NULL,
    origin TEXT NOT NULL,
    number INTEGER NOT NULL,
    time INTEGER NOT NULL,
    counter INTEGER NOT NULL,
    before BLOB NOT NULL,
    hash BLOB NOT NULL
  ) STRICT;
  CREATE UNIQUE INDEX events_of_origin ON events (origin, number);
  CREATE INDEX events_of_run ON events (run, time, counter, origin);
  CREATE INDEX events_in_order ON events (time, counter, origin);
  CREATE TABLE marks (what TEXT NOT NULL, origin TEXT NOT NULL, number INTEGER NOT NULL, note TEXT NOT NULL) STRICT;
`;
export const TRIGGERS = `
  CREATE TRIGGER events_stay BEFORE DELETE ON events BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
  CREATE TRIGGER events_keep BEFORE UPDATE ON events BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
`;
const MARKS = `PRAGMA application_id = ${APPLICATION_ID}; PRAGMA user_version = ${FORMAT};`;

/**
 * Opens the journal's database, creating it where there is none, and checks it. A file that is not ours, newer or
 * damaged is left as it is; one in the format of an older Limber is taken over into today's. Throws JournalError or
 * the error of SQLite or the system.
 */
export const openDatabase = (file: string, patience: Seconds): Database => {
  mustNotBeEmptied(file);
  createPrivate(file, "welcome");
  const database = new DatabaseSync(file, { timeout: Math.round(patience * 1000) });
  try {
    const kind = recognise(database, file);
    checkPages(database, file);
    if (kind === "ours") checkTables(database, file);
    // A commit is on disk when it returns, also after a power cut. fullfsync: macOS keeps data in the drive otherwise.
    database.exec("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA fullfsync = ON");
    if (kind === "empty") create(database, file);
    if (kind === "older") takeOver(database, file);
    return database;
  } catch (error) {
    database.close();
    throw isAboutTables(error) ? journalError("damaged", file, error) : error;
  }
};

/**
 * Closes a database. This library ends a statement only when its memory is tidied up, and a connection with living
 * statements stays half open, its log beside it. So what the log holds is brought into the file first: the file alone is
 * whole. Never throws: where that cannot be done now, the next opening does it.
 */
export const closeDatabase = (database: Database): void => {
  try {
    // Waits for nobody: whoever else has it open keeps the log that it still needs.
    database.exec("PRAGMA wal_checkpoint(PASSIVE)");
  } catch {
    // Every event is in the log, on disk.
  }
  database.close();
};

/** SQLite's general error (sqlite.org/rescode.html, 1): here, before any work, it says that a table is not what its format says. */
const isAboutTables = (error: unknown): boolean => error instanceof Error && "errcode" in error && error.errcode === 1;

/** A journal that is not there is begun anew; one that had events and is empty is damaged. */
const mustNotBeEmptied = (file: string): void => {
  if (!existsSync(file)) forgetHeadFile(file);
  else if (existsSync(headFileOf(file)) && statSync(file).size === 0)
    throw journalError("damaged", file, "it is empty and had events before");
};

type FormatKind = "empty" | "older" | "ours";

/** In one statement: between two, another process could create the tables. */
const FORMAT_MARKS = `
  SELECT application_id AS owner, user_version AS format, (SELECT count(*) FROM sqlite_schema) AS tables
  FROM pragma_application_id, pragma_user_version
`;

const recognise = (database: Database, file: string): FormatKind => {
  const { owner, format, tables } = database.prepare(FORMAT_MARKS).get();
  if (owner === 0 && format === 0 && tables === 0) return "empty";
  if (owner !== APPLICATION_ID) throw journalError("not-a-journal", file);
  if (format > FORMAT) throw journalError("newer-version", file, `format ${format}`);
  if (format === FORMAT) return "ours";
  // The number alone may be what is spoilt: a journal with a chain was never of the older format.
  const { chained } = database
    .prepare("SELECT count(*) AS chained FROM pragma_table_info('events') WHERE name = 'hash'")
    .get();
  if (format < 1 || chained > 0) throw journalError("damaged", file, `format ${format}, but not its tables`);
  return "older";
};

/** Every page, and that every index agrees with its table: a question to a spoilt index would leave events out without a word. */
const checkPages = (database: Database, file: string): void => {
  const { integrity_check: verdict } = database.prepare("PRAGMA integrity_check(1)").get();
  if (verdict !== "ok") throw journalError("damaged", file, verdict);
};

/** Tables and indexes as this program makes them. Missing triggers are left to the check of the journal: nothing is read wrongly without them. */
const checkTables = (database: Database, file: string): void => {
  const wrong = wrongSchema(database).find(({ type }) => type !== "trigger");
  if (wrong) throw journalError("damaged", file, `the ${wrong.type} ${wrong.name} is not as it was made`);
};

export interface SchemaPart {
  readonly type: string;
  readonly name: string;
}

/**
 * What is missing in the database or not as it was made, and triggers of strangers. The
 * derived tables are looked after elsewhere.
 */
export const wrongSchema = (database: Database): readonly SchemaPart[] => {
  const wanted = schemaOf(freshDatabase());
  const found = new Map(schemaOf(database).map((part) => [part.name, part]));
  const names = new Set(wanted.map(({ name }) => name));
  return [
    ...wanted.filter(({ name, sql }) => found.get(name)?.sql !== sql),
    ...[...found.values()].filter(({ type, name }) => type === "trigger" && !names.has(name)),
  ];
};

const freshDatabase = (): Database => {
  const database = new DatabaseSync(":memory:");
  database.exec(TABLES + TRIGGERS);
  return database;
};

const schemaOf = (database: Database): readonly (SchemaPart & { readonly sql: string })[] =>
  database.prepare("SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL").all();

/** Another process may have created the tables while we waited for the lock. */
const create = (database: Database, file: string): void =>
  inTransaction(database, () => {
    if (recognise(database, file) !== "empty") return;
    database.exec(TABLES + TRIGGERS + MARKS);
    ownFrom(database, newOrigin());
  });

/** Makes this journal write under that bench id from now on. */
export const ownFrom = (database: Database, origin: string): void => {
  database.prepare("INSERT INTO marks VALUES ('own', ?, 0, '')").run(origin);
};

/** Format 1 had no chain: every event gets its place in one, in the order of writing. */
const takeOver = (database: Database, file: string): void =>
  inTransaction(database, () => {
    if (recognise(database, file) !== "older") return;
    database.exec(`
      DROP TRIGGER IF EXISTS events_stay; DROP TRIGGER IF EXISTS events_keep; DROP INDEX IF EXISTS events_of_run;
      DROP TABLE IF EXISTS fold; DROP TABLE IF EXISTS runs; DROP TABLE IF EXISTS fixtures;
      ALTER TABLE events RENAME TO unchained;
      ${TABLES}
    `);
    chainAll(database, file);
    database.exec(`DROP TABLE unchained; ${TRIGGERS} ${MARKS}`);
  });

const chainAll = (database: Database, file: string): void => {
  const origin = newOrigin();
  ownFrom(database, origin);
  const put = database.prepare(PUT_EVENT);
  let before = NO_HASH;
  let clock: ClockTime = DAWN;
  let number = 0;
  for (const { serial, id, run, at, v, kind, event } of database
    .prepare("SELECT * FROM unchained ORDER BY serial")
    .iterate()) {
    const text = canonicalText(String(event));
    if (text === undefined)
      throw damagedEvent(file, { run: String(run), number: Number(serial), at: String(at) }, "it is no JSON");
    number += 1;
    const link = { ...nextStamp(clock, String(at), origin), number, before };
    const hash = hashOf(link, text);
    put.run(id, run, at, v, kind, text, origin, number, link.time, link.counter, before, hash);
    before = hash;
    clock = link;
  }
};

const canonicalText = (text: string): string | undefined => {
  try {
    return canonical(JSON.parse(text));
  } catch {
    return undefined;
  }
};

/**
 * Does the work within one transaction: all of it or nothing. The lock is taken at the start, where SQLite waits its turn.
 * Throws what the work or SQLite threw, with nothing done.
 */
export const inTransaction = (database: Database, work: () => void): void => {
  database.exec("BEGIN IMMEDIATE");
  try {
    work();
    database.exec("COMMIT");
  } catch (error) {
    // Some errors, a full disk among them, have already undone the transaction.
    if (database.isTransaction) database.exec("ROLLBACK");
    throw error;
  }
};

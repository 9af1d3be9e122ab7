import { type DatabaseSyncInstance as Database, DatabaseSync } from "@photostructure/sqlite";
import type { Seconds } from "../../domain/units.ts";
import { createPrivate } from "./private.ts";
import { journalError } from "./trouble.ts";

/** "LMBR": tells our files from other programs' databases. */
const APPLICATION_ID = 0x4c4d4252;
/** Of the tables. Events carry their own version. */
const FORMAT = 1;

const TABLES = `
  CREATE TABLE events (
    serial INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    run TEXT NOT NULL,
    at TEXT NOT NULL,
    v INTEGER NOT NULL,
    kind TEXT NOT NULL,
    event TEXT NOT NULL
  ) STRICT;
  CREATE INDEX events_of_run ON events (run);
  CREATE TRIGGER events_stay BEFORE DELETE ON events BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
  CREATE TRIGGER events_keep BEFORE UPDATE ON events BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
  PRAGMA application_id = ${APPLICATION_ID};
  PRAGMA user_version = ${FORMAT};
`;

/**
 * Opens the journal's database, creating it where there is none, and checks it. A file that is not ours, newer or
 * damaged is left as it is. Throws JournalError or the error of SQLite or the system.
 */
export const openDatabase = (file: string, patience: Seconds): Database => {
  createPrivate(file, "welcome");
  const database = new DatabaseSync(file, { timeout: Math.round(patience * 1000) });
  try {
    const kind = recognise(database, file);
    check(database, file);
    // A commit is on disk when it returns, also after a power cut. fullfsync: macOS keeps data in the drive otherwise.
    database.exec("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA fullfsync = ON");
    if (kind === "empty") create(database, file);
    return database;
  } catch (error) {
    database.close();
    throw error;
  }
};

/** In one statement: between two, another process could create the tables. */
const MARKS = `
  SELECT application_id AS owner, user_version AS format, (SELECT count(*) FROM sqlite_schema) AS tables
  FROM pragma_application_id, pragma_user_version
`;

const recognise = (database: Database, file: string): "empty" | "ours" => {
  const { owner, format, tables } = database.prepare(MARKS).get();
  if (owner === 0 && format === 0 && tables === 0) return "empty";
  if (owner !== APPLICATION_ID) throw journalError("not-a-journal", file);
  if (format > FORMAT) throw journalError("newer-version", file, `format ${format}`);
  return "ours";
};

const check = (database: Database, file: string): void => {
  const { quick_check: verdict } = database.prepare("PRAGMA quick_check(1)").get();
  if (verdict !== "ok") throw journalError("damaged", file, verdict);
};

/** Another process may have created the tables while we waited for the lock. */
const create = (database: Database, file: string): void =>
  inTransaction(database, () => {
    if (recognise(database, file) === "empty") database.exec(TABLES);
  });

/** All or nothing. The lock is taken at the start, where SQLite waits its turn. */
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

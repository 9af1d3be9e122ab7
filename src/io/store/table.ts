import { closeSync, fsyncSync, openSync, rmSync } from "node:fs";
import type { DatabaseSyncInstance as Database } from "@photostructure/sqlite";
import { identityKey } from "../../domain/problem/identity.ts";
import type { Seconds } from "../../domain/units.ts";
import { DAWN, type Stamp } from "../../run/events/chain.ts";
import { type Appending, appendingTo } from "./appending.ts";
import { type Checking, checking } from "./check.ts";
import { closeDatabase, openDatabase } from "./database.ts";
import { type Derived, derivedIn } from "./derived.ts";
import { createPrivate } from "./journal-files.ts";
import { EVENT_COLUMNS, mustBeSound, type StoredRow, storedRows } from "./row.ts";
import { type Sharing, sharingOf } from "./sharing.ts";
import { type Site, siteOf } from "./site.ts";

/** The journal on disk, as the worker thread holds it. Every function blocks until done, and throws JournalError or the error of SQLite or the system. */
export interface JournalTable extends Appending {
  /** At most `limit` rows after the stamp `after`, in the one order of events. Each is checked to be as it was written. */
  page(of: EventsOf, after: Stamp | undefined, limit: number): readonly StoredRow[];
  /** Writes a whole copy while the journal is in use. */
  backup(file: string): void;
  readonly derived: Derived;
  readonly check: Checking;
  readonly share: Sharing;
  readonly site: Site;
}

/** Which events are read. Those of a fixture are found by the derived tables, which must have caught up. */
export type EventsOf =
  | { readonly kind: "all" }
  | { readonly kind: "run"; readonly run: string }
  | { readonly kind: "fixture"; readonly serial: string };

/**
 * Opens the journal's database, with all that is done on it in one thread. `patience` is how long to wait for another
 * program's lock. Throws JournalError, and so do its functions for a row that was changed since it was written.
 */
export const openTable = (file: string, patience: Seconds): JournalTable => {
  const database = openDatabase(file, patience);
  const appending = appendingTo(database, file);
  return {
    ...appending,
    page: (of, after, limit) => {
      const [where, ...values] = whereOf(of);
      const place = [after?.time ?? DAWN.time - 1, after?.counter ?? 0, after?.origin ?? "", limit];
      const page = database.prepare(`SELECT ${EVENT_COLUMNS} FROM events WHERE ${where} AND ${AFTER}`);
      const rows = storedRows(page, ...values, ...place);
      for (const row of rows) mustBeSound(row, file);
      return rows;
    },
    backup: (to) => copy(database, to),
    derived: derivedIn(database, file),
    check: checking(database, file),
    share: sharingOf(database, file),
    site: siteOf(database),
    close: () => {
      appending.close();
      closeDatabase(database);
    },
  };
};

const whereOf = (of: EventsOf): readonly [sql: string, ...values: readonly string[]] => {
  switch (of.kind) {
    case "all":
      return ["TRUE"];
    case "run":
      return ["run = ?", of.run];
    case "fixture":
      return ["run IN (SELECT run FROM runs WHERE fixture = ?)", identityKey(of.serial)];
    default:
      return of satisfies never;
  }
};

const AFTER = "(time, counter, origin) > (?, ?, ?) ORDER BY time, counter, origin LIMIT ?";

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

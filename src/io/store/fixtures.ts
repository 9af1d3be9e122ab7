import type { DatabaseSyncInstance as Database } from "@photostructure/sqlite";
import type { ProfileOf } from "../../run/events/digest.ts";
import type { Which } from "../../run/events/which.ts";
import { standingIn } from "../../run/memory/standing.ts";
import { inTransaction } from "./database.ts";
import { fromRow, type StoredRow } from "./row.ts";

/** Every run of a fixture, and where the fixture stands by all of their events: NULL where that is to be reckoned anew. */
export const FIXTURE_TABLE = `
  DROP TABLE IF EXISTS fixtures;
  CREATE TABLE fixtures (fixture TEXT PRIMARY KEY, standing TEXT) STRICT;
`;

/** A run of it has new events. */
export const unsettle = (database: Database, serial: string): void => {
  database.prepare("INSERT OR REPLACE INTO fixtures VALUES (?, NULL)").run(serial);
};

/** A fixture's serial number, and its standing as JSON. */
export type StandingRow = readonly [serial: string, standing: string];

/** Reckons at most so many anew. Undefined while some that are asked for are still to be reckoned. */
export const settled = (
  database: Database,
  file: string,
  profileOf: ProfileOf,
  which: FixtureAsked,
  most: number,
): readonly StandingRow[] | undefined => {
  const stale = rowsOf(database, which).filter(({ standing }) => standing === null);
  if (stale.length > 0)
    inTransaction(database, () => {
      for (const { fixture } of stale.slice(0, most)) settle(database, file, profileOf, fixture);
    });
  const rows = rowsOf(database, which);
  return rows.every(({ standing }) => standing !== null)
    ? rows.map(({ fixture, standing }) => [fixture, String(standing)])
    : undefined;
};

export type FixtureAsked = Extract<Which, { readonly kind: "all" | "fixture" }>;

const rowsOf = (database: Database, which: FixtureAsked) =>
  (which.kind === "all"
    ? database.prepare("SELECT fixture, standing FROM fixtures").all()
    : database.prepare("SELECT fixture, standing FROM fixtures WHERE fixture = ?").all(which.serial)) as {
    readonly fixture: string;
    readonly standing: string | null;
  }[];

const EVENTS_OF_FIXTURE = `
  SELECT serial, v, event FROM events WHERE run IN (SELECT run FROM runs WHERE fixture = ?) ORDER BY serial
`;

const settle = (database: Database, file: string, profileOf: ProfileOf, serial: string): void => {
  const rows = database.prepare(EVENTS_OF_FIXTURE).all(serial) as StoredRow[];
  const standing = standingIn(
    rows.map((row) => fromRow(row, file)),
    serial,
    profileOf,
  );
  database.prepare("UPDATE fixtures SET standing = ? WHERE fixture = ?").run(JSON.stringify(standing), serial);
};

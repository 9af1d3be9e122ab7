import type { DatabaseSyncInstance as Database } from "@photostructure/sqlite";
import { readingProfiles } from "../../run/events/digest.ts";
import type { Which } from "../../run/events/which.ts";
import { type FixtureAsked, type StandingRow, settled } from "./fixtures.ts";
import { forget, type Progress, progressOf, takeIn, uptoIn } from "./fold.ts";

/**
 * What is kept ready of every run, so that nobody reads the whole journal: folded from the events when it is asked for,
 * so that an append costs nothing more, and thrown away at any time.
 */
export interface Derived {
  /** Takes in at most so many new events, in one transaction. */
  catchUp(most: number): Progress;
  /** Briefs as JSON, oldest run first. Undefined when the tables have not come as far as `least` (any more). */
  briefs(which: Which, least: number): readonly string[] | undefined;
  teaching(least: number): Teaching | undefined;
  /** Reckons at most so many fixtures anew. Undefined while there are more, or as above. */
  standings(which: FixtureAsked, least: number, most: number): readonly StandingRow[] | undefined;
  forget(): Progress;
}

export interface Teaching {
  /** Lessons as JSON, oldest run first. */
  readonly lessons: readonly { readonly run: string; readonly lesson: string }[];
  readonly passedAgain: readonly string[];
}

export const derivedIn = (database: Database, file: string): Derived => {
  const profileOf = readingProfiles();
  const all = (sql: string, ...values: readonly (string | number)[]) => database.prepare(sql).all(...values);
  const from = <T>(least: number, read: () => T): T | undefined =>
    atOnce(database, () => ((uptoIn(database) ?? -1) >= least ? read() : undefined));
  return {
    catchUp: (most) => takeIn(database, file, profileOf, most),
    briefs: (which, least) => from(least, () => all(...briefsSql(which)).map(({ brief }) => String(brief))),
    teaching: (least) =>
      from(least, () => ({
        lessons: all(
          "SELECT run, lesson FROM runs WHERE lesson IS NOT NULL ORDER BY begun",
        ) as Teaching["lessons"][number][],
        passedAgain: all("SELECT passed_again AS run FROM runs WHERE passed_again IS NOT NULL").map(({ run }) =>
          String(run),
        ),
      })),
    standings: (which, least, most) =>
      (uptoIn(database) ?? -1) >= least ? settled(database, file, profileOf, which, most) : undefined,
    forget: () => {
      forget(database);
      return progressOf(database);
    },
  };
};

const LATEST_PRESSED = `
  SELECT brief FROM (SELECT begun, brief FROM runs WHERE pressed = 1 ORDER BY begun DESC LIMIT ?) ORDER BY begun
`;

const briefsSql = (which: Which): readonly [sql: string, ...values: readonly (string | number)[]] => {
  switch (which.kind) {
    case "all":
      return ["SELECT brief FROM runs ORDER BY begun"];
    case "fixture":
      return ["SELECT brief FROM runs WHERE fixture = ? ORDER BY begun", which.serial];
    case "named":
      return ["SELECT brief FROM runs WHERE instr(run, ?) = 1 ORDER BY begun", which.beginning];
    case "pressed":
      return [LATEST_PRESSED, which.latest];
    default:
      return which satisfies never;
  }
};

/** Everything read in it belongs to one moment. */
const atOnce = <T>(database: Database, read: () => T): T => {
  database.exec("BEGIN");
  try {
    return read();
  } finally {
    database.exec("COMMIT");
  }
};

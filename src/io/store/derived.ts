import type { DatabaseSyncInstance as Database } from "@photostructure/sqlite";
import { identityKey } from "../../domain/problem/identity.ts";
import { type ProfileOf, readingProfiles } from "../../run/events/digest.ts";
import type { Which } from "../../run/events/summary.ts";
import { standingIn } from "../../run/release/release-status.ts";
import { inTransaction } from "./database.ts";
import { type FoldProgress, forget, progressOf, takeIn, uptoIn } from "./fold.ts";
import { type Cell, EVENT_COLUMNS, fromRow, proofOf, readableHere, storedRows } from "./row.ts";

/**
 * What is kept ready of every run, so that nobody reads the whole journal: folded from the events when it is asked for,
 * so that an append costs nothing more, and thrown away at any time. Rows that were changed since they were written are
 * never told: all is thrown away, and folded again.
 */
export interface Derived {
  /** Takes in new events in one transaction; `most` is how many at most. */
  catchUp(most: number): FoldProgress;
  /** Run summaries as JSON, oldest run first. Undefined when the tables do not, or no longer, reach the sequence number `least`. */
  briefs(which: Which, least: number): readonly string[] | undefined;
  /** What the runs teach. Undefined when the tables do not reach the sequence number `least`. */
  teaching(least: number): Teaching | undefined;
  /**
   * Names of open runs that were begun under a bench id that is none of this journal's. Undefined when the tables do not
   * reach the sequence number `least`.
   */
  openElsewhere(least: number): readonly string[] | undefined;
  /**
   * Calculates fixtures again, `most` being how many at most: how many are left, while there are more. Undefined when the
   * tables do not reach the sequence number `least`.
   */
  standings(which: DerivedFor, least: number, most: number): StandingsSoFar | undefined;
  forget(): FoldProgress;
}

export interface Teaching {
  /** Lessons as JSON, oldest run first. */
  readonly lessons: readonly { readonly run: string; readonly lesson: string }[];
  readonly passedAgain: readonly string[];
}

export type DerivedFor = Extract<Which, { readonly kind: "all" | "fixture" }>;

/** All of them, or how many are still to be calculated. */
export type StandingsSoFar =
  | { readonly kind: "all"; readonly rows: readonly ReleaseStatusRow[] }
  | { readonly kind: "more"; readonly left: number };

/** The key of a fixture's serial number (`identityKey`), and its standing as JSON. */
type ReleaseStatusRow = readonly [serial: string, standing: string];

/** The derived tables of an open journal, worked out by the one fold. */
export const derivedIn = (database: Database, file: string): Derived => {
  const profileOf = readingProfiles();
  /** Everything that is read in it belongs to one moment. */
  const from = <T>(least: number, read: () => T | undefined): T | undefined => {
    database.exec("BEGIN");
    let told: T | undefined;
    try {
      if ((uptoIn(database) ?? -1) < least) return undefined;
      told = read();
    } finally {
      database.exec("COMMIT");
    }
    if (told === undefined) forget(database);
    return told;
  };
  return {
    catchUp: (most) => takeIn(database, file, profileOf, most),
    briefs: (which, least) => from(least, () => proven(database, ...runsSql(which))?.map(({ brief }) => String(brief))),
    teaching: (least) => from(least, () => teachingIn(database)),
    openElsewhere: (least) =>
      from(least, () =>
        database
          .prepare(OPEN_ELSEWHERE)
          .all()
          .map(({ run }) => String(run)),
      ),
    standings: (which, least, most) => {
      if ((uptoIn(database) ?? -1) < least) return undefined;
      settle(database, file, profileOf, which, most);
      const rows = standingRows(database, which);
      const left = rows.filter(({ standing }) => standing === null).length;
      if (left > 0) return { kind: "more", left };
      if (rows.every(({ fixture, standing, proof }) => proof === proofOf(fixture, standing)))
        return { kind: "all", rows: rows.map(({ fixture, standing }) => [fixture, String(standing)]) };
      forget(database);
      return undefined;
    },
    forget: () => {
      forget(database);
      return progressOf(database);
    },
  };
};

const RUN_COLUMNS = "run, begun, fixture, passed_again, pressed, brief, lesson, proof";

const LATEST_PRESSED = `
  SELECT * FROM (SELECT ${RUN_COLUMNS} FROM runs WHERE pressed = 1 ORDER BY begun DESC LIMIT ?) ORDER BY begun
`;

/** The place of a run's first event ends in the bench id under which it was written. */
const OPEN_ELSEWHERE = `
  SELECT run FROM runs
  WHERE substr(begun, -12) NOT IN (SELECT origin FROM marks WHERE what = 'own') AND json_extract(brief, '$.ended') = 'open'
`;

const runsSql = (which: Which): readonly [sql: string, ...values: readonly Cell[]] => {
  switch (which.kind) {
    case "all":
      return [`SELECT ${RUN_COLUMNS} FROM runs ORDER BY begun`];
    case "fixture":
      return [`SELECT ${RUN_COLUMNS} FROM runs WHERE fixture = ? ORDER BY begun`, identityKey(which.serial)];
    case "named":
      return [`SELECT ${RUN_COLUMNS} FROM runs WHERE instr(run, ?) = 1 ORDER BY begun`, which.beginning];
    case "pressed":
      return [LATEST_PRESSED, which.latest];
    default:
      return which satisfies never;
  }
};

type RunCells = Readonly<Record<string, Cell>>;

/** Undefined when a row was changed since it was written. */
const proven = (database: Database, sql: string, ...values: readonly Cell[]): readonly RunCells[] | undefined => {
  const rows: readonly RunCells[] = database.prepare(sql).all(...values);
  return rows.every(({ proof, ...cells }) => proof === proofOf(...Object.values(cells))) ? rows : undefined;
};

const teachingIn = (database: Database): Teaching | undefined => {
  const lessons = proven(database, `SELECT ${RUN_COLUMNS} FROM runs WHERE lesson IS NOT NULL ORDER BY begun`);
  const again = proven(database, `SELECT ${RUN_COLUMNS} FROM runs WHERE passed_again IS NOT NULL`);
  return (
    lessons &&
    again && {
      lessons: lessons.map(({ run, lesson }) => ({ run: String(run), lesson: String(lesson) })),
      passedAgain: again.map((row) => String(row["passed_again"])),
    }
  );
};

interface FixtureCells {
  readonly fixture: string;
  readonly standing: string | null;
  readonly proof: string;
}

const standingRows = (database: Database, which: DerivedFor): readonly FixtureCells[] =>
  which.kind === "all"
    ? database.prepare("SELECT * FROM fixtures ORDER BY fixture").all()
    : database.prepare("SELECT * FROM fixtures WHERE fixture = ?").all(identityKey(which.serial));

/** Calculates at most `most` of those that are to be calculated. */
const settle = (database: Database, file: string, profileOf: ProfileOf, which: DerivedFor, most: number): void => {
  const stale = standingRows(database, which).filter(({ standing }) => standing === null);
  if (stale.length === 0) return;
  const put = database.prepare("UPDATE fixtures SET standing = ?, proof = ? WHERE fixture = ?");
  inTransaction(database, () => {
    for (const { fixture } of stale.slice(0, most)) {
      const standing = standingText(database, file, profileOf, fixture);
      put.run(standing, proofOf(fixture, standing), fixture);
    }
  });
};

const FIXTURE_EVENTS = `
  SELECT ${EVENT_COLUMNS} FROM events WHERE run IN (SELECT run FROM runs WHERE fixture = ?) ORDER BY time, counter, origin
`;

/** The release status of a fixture by all of its events, in the one order, as JSON. */
export const standingText = (database: Database, file: string, profileOf: ProfileOf, fixture: string): string => {
  const rows = readableHere(storedRows(database.prepare(FIXTURE_EVENTS), fixture));
  return JSON.stringify(
    standingIn(
      rows.map((row) => fromRow(row, file)),
      fixture,
      profileOf,
    ),
  );
};

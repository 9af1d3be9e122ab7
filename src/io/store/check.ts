import type { DatabaseSyncInstance as Database } from "@photostructure/sqlite";
import { identityKey, isSameName } from "../../domain/problem/identity.ts";
import { type ChainHead, NO_HASH, type PrintedHead } from "../../run/events/chain.ts";
import { type ProfileOf, readingProfiles } from "../../run/events/digest.ts";
import { type AcceptedFinding, findingKey, type JournalFinding } from "../../run/events/journal-finding.ts";
import { JournalError } from "../../run/ports.ts";
import { hasHead, headOf } from "./appending.ts";
import { wrongSchema } from "./database.ts";
import { standingText } from "./derived.ts";
import { runRow } from "./fold.ts";
import { EVENT_COLUMNS, type StoredRow, storedRows, wrongIn } from "./row.ts";

/** Checks what the database holds against the chain of its events, piece by piece so that appends come between. */
export interface Checking {
  /** The events after `after`, `most` at most. */
  chain(after: ChainHead | undefined, most: number): Checked<ChainHead>;
  /** Of runs whose names come after `after`, `most` at most: do the derived tables follow from their events? They must have caught up. */
  runs(after: string, most: number): Checked<string>;
  /** The same of one fixture, by its events and not by what is kept ready of them. */
  fixture(serial: string): readonly JournalFinding[];
  /** The status of the fixtures whose serial numbers come after `after`, `most` at most. */
  fixtures(after: string, most: number): Checked<string>;
  /** The database's own rules, and chains that were once longer. */
  rules(): readonly JournalFinding[];
  /** Chains that were once longer, as far as nobody has accepted it: said whenever the journal is opened. */
  ended(): readonly JournalFinding[];
  accepted(): readonly AcceptedFinding[];
  accept(finding: AcceptedFinding): void;
  /** Whether an event of this number, whose hash begins so, is here: of this bench or another. */
  has(head: PrintedHead): boolean;
}

export interface Checked<Place> {
  readonly findings: readonly JournalFinding[];
  /** Undefined when that was all. */
  readonly next: Place | undefined;
  readonly seen: number;
}

/** Checks of an open journal, each in pieces, so that appends come between. */
export const checking = (database: Database, file: string): Checking => {
  const profileOf = readingProfiles();
  const follows = (run: string) => derivedRun(database, file, profileOf, run);
  return {
    chain: (after, most) => checkChain(database, after, most),
    runs: (after, most) => {
      const names = textsOf(
        database,
        "SELECT DISTINCT run FROM events WHERE run > ? ORDER BY run LIMIT ?",
        after,
        most,
      );
      const findings = names.length > 0 ? names.flatMap(follows) : runsWithoutEvents(database);
      return { findings, next: names.at(-1), seen: names.length };
    },
    fixture: (serial) => [
      ...runsOfFixture(database, serial).flatMap(follows),
      ...derivedFixture(database, file, profileOf, identityKey(serial)),
    ],
    fixtures: (after, most) => {
      const serials = textsOf(database, FIXTURE_PAGE, after, most);
      const findings = serials.flatMap((serial) => derivedFixture(database, file, profileOf, serial));
      return { findings, next: serials.at(-1), seen: serials.length };
    },
    rules: () => [
      ...wrongSchema(database).map(({ type, name }) => ({ kind: "schema", type, name }) as const),
      ...endedChains(database),
    ],
    ended: () => {
      const keys = new Set(acceptedIn(database).map(({ key }) => key));
      return endedChains(database).filter((one) => !keys.has(findingKey(one)));
    },
    accepted: () => acceptedIn(database),
    accept: ({ key, words }) => {
      database.prepare("INSERT INTO marks VALUES ('accepted', ?, 0, ?)").run(key, words);
    },
    has: ({ number, hash }) =>
      textsOf(database, "SELECT lower(hex(hash)) FROM events WHERE number = ?", number).some((one) =>
        one.startsWith(hash),
      ),
  };
};

const CHAIN_PAGE = `
  SELECT ${EVENT_COLUMNS} FROM events WHERE (origin, number) > (?, ?) ORDER BY origin, number LIMIT ?
`;

const checkChain = (database: Database, after: ChainHead | undefined, most: number): Checked<ChainHead> => {
  const rows = storedRows(database.prepare(CHAIN_PAGE), after?.origin ?? "", after?.number ?? 0, most);
  const findings = rows.flatMap((row, index) => linkFindings(row, rows[index - 1] ?? after));
  return { findings, next: rows.at(-1), seen: rows.length };
};

const linkFindings = (row: StoredRow, last: ChainHead | undefined): readonly JournalFinding[] => {
  const { origin, number, run, at } = row;
  const before = last?.origin === origin ? last : { number: 0, hash: NO_HASH };
  const place = { origin, number, run, at };
  return [
    ...(number > before.number + 1 ? [{ kind: "gap", origin, from: before.number + 1, to: number - 1 } as const] : []),
    ...(number === before.number + 1 && row.before !== before.hash ? [{ kind: "unchained", ...place } as const] : []),
    ...(wrongIn(row) ? [{ kind: "changed", ...place } as const] : []),
  ];
};

const FIXTURE_PAGE = "SELECT fixture FROM fixtures WHERE fixture > ? ORDER BY fixture LIMIT ?";

const runsWithoutEvents = (database: Database): readonly JournalFinding[] =>
  textsOf(database, "SELECT run FROM runs WHERE run NOT IN (SELECT run FROM events)").map((name) => ({
    kind: "derived",
    of: "run",
    name,
  }));

const RUN_CELLS = "SELECT run, begun, fixture, passed_again, pressed, brief, lesson FROM runs WHERE run = ?";

const derivedRun = (database: Database, file: string, profileOf: ProfileOf, run: string): readonly JournalFinding[] => {
  const wanted = readable(() => runRow(database, file, profileOf, run));
  if (wanted === "damaged") return [];
  const kept = database.prepare(RUN_CELLS).get(run);
  const same = JSON.stringify(kept ? Object.values(kept) : undefined) === JSON.stringify(wanted);
  return same ? [] : [{ kind: "derived", of: "run", name: run }];
};

const derivedFixture = (
  database: Database,
  file: string,
  profileOf: ProfileOf,
  serial: string,
): readonly JournalFinding[] => {
  const kept = database.prepare("SELECT standing FROM fixtures WHERE fixture = ?").get(serial);
  const standing = kept?.["standing"];
  // Not calculated yet: it will be when somebody asks.
  if (kept && standing === null) return [];
  if (!kept && runsOfFixture(database, serial).length === 0) return [];
  const wanted = readable(() => standingText(database, file, profileOf, serial));
  return wanted === "damaged" || wanted === standing ? [] : [{ kind: "derived", of: "fixture", name: serial }];
};

/** A damaged event has been found already; what would follow from it cannot be said. */
const readable = <T>(work: () => T): T | "damaged" => {
  try {
    return work();
  } catch (error) {
    if (error instanceof JournalError) return "damaged";
    throw error;
  }
};

/** The runs of a fixture by the events themselves, however the serial number was spelt in each. */
const runsOfFixture = (database: Database, serial: string): readonly string[] =>
  database
    .prepare(OPENINGS)
    .all()
    .filter((row) => isSameName(String(row["serial"]), serial))
    .map((row) => String(row["run"]));
const OPENINGS = `
  SELECT DISTINCT run, json_extract(event, '$.body.fixture.serial') AS serial FROM events WHERE kind = 'run-opened'
`;

const endedChains = (database: Database): readonly JournalFinding[] =>
  database
    .prepare("SELECT origin, number, note AS hash FROM marks WHERE what = 'ended'")
    .all()
    .map((row) => ({ origin: String(row["origin"]), number: Number(row["number"]), hash: String(row["hash"]) }))
    .filter((known) => !hasHead(database, known))
    .map((known) => ({ kind: "ended", known, here: headOf(database, known.origin)?.number ?? 0 }));

const acceptedIn = (database: Database): readonly AcceptedFinding[] =>
  database
    .prepare("SELECT origin AS key, note AS words FROM marks WHERE what = 'accepted'")
    .all()
    .map((row) => ({ key: String(row["key"]), words: String(row["words"]) }));

const textsOf = (database: Database, sql: string, ...values: readonly (string | number)[]): readonly string[] =>
  database
    .prepare(sql)
    .all(...values)
    .map((row) => String(Object.values(row)[0]));

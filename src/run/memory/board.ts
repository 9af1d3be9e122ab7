import { grouped, recordFrom } from "../../domain/keys.ts";
import { identityKey, isSameName } from "../../domain/problem/identity.ts";
import type { AsideReason } from "../events/by-hand.ts";
import { isNameless, type RunSummary } from "../events/summary.ts";
import { type ReleaseStatus, type ReleaseStatuses, type StateId, verdictOf } from "../release/release-status.ts";
import { type FixtureRuns, meanMinutes } from "./stock.ts";

/** Which fixtures a board shows: those of one day, or of one hire whenever they were worked on. */
export type BoardOf =
  | { readonly kind: "day" /** ISO 8601 date, UTC. */; readonly day: string }
  | { readonly kind: "hire"; readonly hire: string };

/** How far the work on a fixture is. */
export const BOARD_STATES = [
  "released",
  "to-sign",
  "needs-work",
  "not-released",
  "part",
  "cooling",
  "other",
  "at-work",
  "not-seen",
] as const;
export type BoardState = (typeof BOARD_STATES)[number];

export interface BoardRow {
  readonly serial: string;
  readonly state: BoardState;
  /** The fixture's own state between truck and shelf; undefined when it was not seen yet. */
  readonly standing: StateId | undefined;
  /** Kind of fixture as of its last run; empty when it was not seen yet. */
  readonly profile: string;
  /** Initials of whoever had it last; empty when nobody said. */
  readonly person: string;
  /** When it was last worked on, ISO 8601; empty when it was not seen yet. */
  readonly at: string;
  /** What blocks its release, the weightiest first; or why it was set aside. */
  readonly because: string;
  /** Minutes of work that are still expected, at least 0; undefined where nothing like it was ever finished. */
  readonly left: number | undefined;
}

export interface Board {
  readonly of: BoardOf;
  readonly simulated: boolean;
  /** Work under way first, then what waits, what is to come, what is done. */
  readonly rows: readonly BoardRow[];
  readonly counts: Readonly<Record<BoardState, number>>;
  /** Minutes of work left in all rows for which there is a figure, and for how many there is none. */
  readonly left: { readonly minutes: number; readonly unknown: number };
}

export interface BoardFacts {
  /** The runs of all fixtures, in order of writing: earlier ones tell how long a run takes. */
  readonly runs: readonly RunSummary[];
  readonly standings: ReleaseStatuses;
  /** Serial numbers that somebody listed. */
  readonly expected: readonly string[];
  readonly simulated: boolean;
}

/** What is done, what waits and what is still to come, worked out from the runs and nothing else. */
export const boardOf = (of: BoardOf, { runs, standings, expected, simulated }: BoardFacts): Board => {
  const counted = runs.filter((run) => !isNameless(run.serial) && run.simulated === simulated);
  const lengths = lengthsIn(counted);
  const seen = grouped(
    counted.filter((run) => belongs(run, of)),
    ({ serial }) => identityKey(serial),
  ).map((own) => seenRow(own, standings, lengths));
  const unseen = expected.filter((serial) => !seen.some((row) => isSameName(row.serial, serial)));
  const rows = [...seen, ...unseen.map((serial) => unseenRow(serial, counted, lengths))];
  return {
    of,
    simulated,
    rows: rows.toSorted((a, b) => ORDER.indexOf(a.state) - ORDER.indexOf(b.state) || (a.at < b.at ? -1 : 1)),
    counts: recordFrom(BOARD_STATES.map((state) => [state, rows.filter((row) => row.state === state).length] as const)),
    left: {
      minutes: rows.reduce((sum, { left }) => sum + (left ?? 0), 0),
      unknown: rows.filter(({ left }) => left === undefined).length,
    },
  };
};

const ORDER: readonly BoardState[] = [
  "at-work",
  "needs-work",
  "not-released",
  "to-sign",
  "part",
  "cooling",
  "other",
  "not-seen",
  "released",
];

const belongs = ({ at, until, hire }: RunSummary, of: BoardOf): boolean =>
  of.kind === "hire" ? hire === of.hire : at.startsWith(of.day) || until.startsWith(of.day);

const seenRow = (own: FixtureRuns, standings: ReleaseStatuses, lengths: Lengths): BoardRow => {
  const last = own.at(-1) ?? own[0];
  const standing = standings.get(identityKey(last.serial));
  const state = stateOf(last, standing);
  return {
    serial: last.serial,
    state,
    standing: standing?.state,
    profile: last.profile,
    person: last.person,
    at: last.until,
    because: last.aside ? last.aside.note : (standing?.reasons[0]?.words ?? ""),
    left: leftOf(last, state, lengths),
  };
};

/** Untested is not broken: "needs-work" is what something is known to be wrong with, or to have been. */
const stateOf = ({ aside, ended }: RunSummary, standing: ReleaseStatus | undefined): BoardState => {
  if (standing?.state === "ready") return "released";
  if (aside) return aside.why satisfies AsideReason;
  if (ended === "open" || ended === "stopped") return "at-work";
  if (standing?.state === "to-sign") return "to-sign";
  return standing && verdictOf(standing).kind !== "not-released" ? "needs-work" : "not-released";
};

/** A run that is open needs the rest of its usual length; one that failed is played once more after the repair. */
const leftOf = (last: RunSummary, state: BoardState, lengths: Lengths): number | undefined => {
  if (state === "released" || state === "to-sign") return 0;
  const usual = lengths(last.sequence, last.profile);
  return usual === undefined || state === "needs-work" || state === "not-released"
    ? usual
    : Math.max(0, usual - last.minutes);
};

const unseenRow = (serial: string, runs: readonly RunSummary[], lengths: Lengths): BoardRow => {
  const before = runs.findLast((run) => run.serial === serial);
  return {
    serial,
    state: "not-seen",
    standing: undefined,
    profile: before?.profile ?? "",
    person: "",
    at: "",
    because: "",
    left: lengths(before?.sequence, before?.profile),
  };
};

/** Minutes that a finished run took in the mean: of this sequence on this kind, else of anything; undefined before the first. */
type Lengths = (sequence: string | undefined, profile: string | undefined) => number | undefined;

const lengthsIn = (runs: readonly RunSummary[]): Lengths => {
  const means = meanMinutes(runs);
  const all = means.reduce((sum, { runs: count }) => sum + count, 0);
  const overall = all === 0 ? undefined : means.reduce((sum, { mean, runs: count }) => sum + mean * count, 0) / all;
  return (sequence, profile) =>
    means.find((one) => one.sequence === sequence && one.profile === profile)?.mean ?? overall;
};

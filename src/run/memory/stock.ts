import { type FaultId, knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { grouped } from "../../domain/keys.ts";
import { identityKey } from "../../domain/problem/identity.ts";
import { isNameless, passedWhole, type RunSummary } from "../events/summary.ts";
import type { ReleaseStatuses, StateId } from "../release/release-status.ts";
import { mendedIn } from "../release/repairs.ts";
import { type PartPast, partsIn, returnsIn } from "./past-troubles.ts";

/** What stands on the shelf and what ails it. No bookings and no availability: those live elsewhere. */
export interface Stock {
  /** True where all of it is simulated. */
  readonly simulated: boolean;
  /** The fixtures, in the order of their serial numbers. */
  readonly fixtures: readonly StockFixture[];
  /** Found most often first. */
  readonly faults: readonly StockFault[];
  readonly parts: readonly StockPart[];
  readonly minutes: readonly MeanMinutes[];
  readonly mending: readonly MeanMending[];
  readonly returning: readonly StockReturn[];
  /** Runs that count for nothing above: simulated ones (or those of fixtures that have real runs), and without a serial number. */
  readonly leftOut: { readonly otherKind: number; readonly withoutSerial: number };
}

export interface StockFixture {
  readonly serial: string;
  /** The profile of its last run. */
  readonly profile: string;
  readonly state: StateId;
  /** What blocks its release. */
  readonly because: readonly string[];
  readonly runs: number;
  /** The last one, and when it began. */
  readonly run: string;
  readonly at: string;
  /** What it counted when it was last asked; undefined where it never was. */
  readonly counters: RunSummary["counters"];
}

/** A fault by the kind of fixture it was found in. */
export interface StockFault {
  readonly fault: FaultId;
  readonly profile: string;
  readonly found: number;
  readonly serials: readonly string[];
}

/** A part that somebody waits for: its fault was found and not repaired, and the fixture has not passed since. */
export interface StockPart {
  readonly part: string;
  readonly fixtures: readonly { readonly serial: string; readonly profile: string; readonly fault: FaultId }[];
}

/** A fixture in which a fault was found again in a later job. */
export interface StockReturn {
  readonly serial: string;
  readonly profile: string;
  readonly fault: FaultId;
  readonly times: number;
  /** Since the time before, of the latest return. */
  readonly hours: number;
}

/**
 * The stock as all runs tell it, in the order of writing: of the real ones, or of fixtures that have simulated ones only.
 */
export const stockOf = (all: readonly RunSummary[], standings: ReleaseStatuses, kind: "real" | "simulated"): Stock => {
  const real = all.filter(({ simulated }) => !simulated);
  const serials = new Set(real.map(({ serial }) => identityKey(serial)));
  const wanted = kind === "real" ? real : all.filter(({ serial }) => !serials.has(identityKey(serial)));
  const runs = wanted.filter(({ serial }) => !isNameless(serial));
  const fixtures = [...grouped(runs, ({ serial }) => identityKey(serial))].sort(([a], [b]) =>
    a.serial < b.serial ? -1 : 1,
  );
  return {
    simulated: kind === "simulated",
    fixtures: fixtures.map((own) => stockFixture(own, standings)),
    faults: faultsIn(runs),
    parts: partsWanted(fixtures),
    minutes: meanMinutes(runs),
    mending: meanMending(runs),
    returning: fixtures.flatMap(returningIn),
    leftOut: { otherKind: all.length - wanted.length, withoutSerial: wanted.length - runs.length },
  };
};

/** The runs of one fixture, in the order of writing. */
export type FixtureRuns = readonly [RunSummary, ...RunSummary[]];
const lastOf = (runs: FixtureRuns): RunSummary => runs.at(-1) ?? runs[0];

const stockFixture = (runs: FixtureRuns, standings: ReleaseStatuses): StockFixture => {
  const { serial, profile, run, at } = lastOf(runs);
  const standing = standings.get(identityKey(serial));
  if (!standing) throw new Error(`Bug: nobody knows where ${serial} stands`);
  const because = standing.reasons.map(({ words }) => words);
  return { serial, profile, state: standing.state, because, runs: runs.length, run, at, counters: lastCounted(runs) };
};

const lastCounted = (runs: FixtureRuns): RunSummary["counters"] =>
  runs.findLast(({ counters }) => counters !== undefined)?.counters;

const faultsIn = (runs: readonly RunSummary[]): readonly StockFault[] => {
  const found = runs.flatMap((run) => partsIn([run]).map(({ fault }) => ({ fault, ...run })));
  return grouped(found, ({ fault, profile }) => JSON.stringify([fault, profile]))
    .map((group) => ({
      fault: group[0].fault,
      profile: group[0].profile,
      found: group.length,
      serials: [...new Set(group.map(({ serial }) => serial))],
    }))
    .sort((a, b) => b.found - a.found);
};

const partsWanted = (fixtures: readonly FixtureRuns[]): readonly StockPart[] =>
  grouped(fixtures.flatMap(waiting), ({ fault }) => knownFault(fault).part).map((group) => ({
    part: knownFault(group[0].fault).part,
    fixtures: group,
  }));

/** What was found in the last run that passed or after it, and was not written down as repaired. */
const waiting = (runs: FixtureRuns): StockPart["fixtures"] => {
  const since = runs.slice(Math.max(0, runs.findLastIndex(passedWhole)));
  const { serial, profile } = lastOf(runs);
  const faults = new Set(partsIn(since).flatMap((found) => (isMended(found, since) ? [] : [found.fault])));
  return [...faults].map((fault) => ({ serial, profile, fault }));
};

const isMended = ({ fault, at }: PartPast, runs: readonly RunSummary[]): boolean =>
  runs.some(({ repairs }) => repairs.some((one) => one.what === "fault" && one.fault === fault && one.at >= at));

const returningIn = (runs: FixtureRuns): readonly StockReturn[] => {
  const { serial, profile } = lastOf(runs);
  const returns = returnsIn(runs).flatMap((one) => (one.kind === "fault" ? [one] : []));
  return grouped(returns, ({ fault }) => fault).map((group) => ({
    serial,
    profile,
    fault: group[0].fault,
    times: group.length,
    hours: group.at(-1)?.hours ?? 0,
  }));
};

/** How long a finished run of one sequence takes on one kind of fixture. */
interface MeanMinutes {
  readonly sequence: string;
  readonly profile: string;
  readonly runs: number;
  readonly mean: number;
}

/** How many minutes runs take, sequence by sequence: of finished runs only, breaks left out; the commonest first. */
export const meanMinutes = (runs: readonly RunSummary[]): readonly MeanMinutes[] => {
  const finished = runs.filter(({ ended }) => ended === "finished");
  return grouped(finished, ({ sequence, profile }) => JSON.stringify([sequence, profile]))
    .map(([first, ...others]) => ({
      sequence: first.sequence,
      profile: first.profile,
      runs: 1 + others.length,
      mean: others.reduce((sum, { minutes }) => sum + minutes, first.minutes) / (1 + others.length),
    }))
    .sort((a, b) => b.runs - a.runs);
};

/** How long repairing a fault has taken here, as those who did it wrote down. */
export interface MeanMending {
  readonly mended: FaultId | "something-else";
  readonly times: number;
  readonly mean: number;
}

/** How many minutes repairs take, fault by fault; what was repaired most often first. */
const meanMending = (runs: readonly RunSummary[]): readonly MeanMending[] => {
  const repairs = runs.flatMap((run) => run.repairs);
  return grouped(repairs, mendedIn)
    .map((group) => ({
      mended: mendedIn(group[0]),
      times: group.length,
      mean: group.reduce((sum, { minutes }) => sum + minutes, 0) / group.length,
    }))
    .sort((a, b) => b.times - a.times);
};

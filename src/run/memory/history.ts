import { FUNCTION_IDS, type FunctionId } from "../../domain/trade/functions.ts";
import type { RoutineId, StepResult } from "../../domain/trade/routines.ts";
import { COUNTER_NAMES, type CounterName, type FixtureCounters } from "../../wire/rdm/fixture.ts";
import type { ReportedSymptom } from "../events/event.ts";
import type { RunSummary, SummaryStep } from "../events/summary.ts";
import type { ReleaseStatus } from "../release/release-status.ts";
import {
  hoursBetween,
  type PartPast,
  partsIn,
  type Return,
  realFirst,
  returnsIn,
  type SymptomPast,
  symptomsIn,
} from "./past-troubles.ts";

/** All that is known of one fixture by its serial number, oldest run first. */
export interface FixtureHistory {
  readonly serial: string;
  /** The profile of its last run. */
  readonly profile: string;
  /** True where all of it is simulated. Of a fixture with real runs the simulated ones are left out. */
  readonly simulated: boolean;
  readonly standing: ReleaseStatus;
  readonly runs: readonly PastRun[];
  readonly functions: readonly FunctionPast[];
  /** Seen most often first. */
  readonly symptoms: readonly SymptomPast[];
  readonly parts: readonly PartPast[];
  /** What was there again in a later job. */
  readonly returns: readonly Return[];
  /** What it counted, run by run, as it said itself. */
  readonly counted: readonly Counted[];
}

/** A reading of a fixture's own counters. */
export interface Counted {
  readonly run: string;
  readonly at: string;
  readonly counters: NonNullable<RunSummary["counters"]>;
  /** Those that were higher before: a board was changed, or somebody set them back. */
  readonly backwards: readonly CounterName[];
}

export interface PastRun {
  readonly run: string;
  readonly bench: string;
  readonly person: string;
  /** ISO 8601, UTC. */
  readonly at: string;
  readonly minutes: number;
  /** Since the latest event of the run before; undefined for the first. */
  readonly hoursSince: number | undefined;
  readonly profile: string;
  readonly sequence: string;
  readonly replays: string | undefined;
  readonly ended: RunSummary["ended"];
  readonly counts: Readonly<Partial<Record<StepResult, number>>>;
  /** Failed or unsure. */
  readonly wrong: readonly PastStep[];
  readonly looks: RunSummary["looks"];
  readonly finds: RunSummary["finds"];
  readonly repairs: RunSummary["repairs"];
  readonly readings: RunSummary["readings"];
  readonly cleanings: RunSummary["cleanings"];
  readonly decisions: RunSummary["decisions"];
  /** Why its date cannot be right, in words; undefined where it may be. */
  readonly doubt: string | undefined;
}

export interface PastStep {
  readonly id: string;
  readonly routine: RoutineId;
  /** Empty for the fixture as a whole. */
  readonly functions: readonly FunctionId[];
  readonly result: StepResult;
  readonly symptoms: readonly ReportedSymptom[];
  readonly note: string;
}

/**
 * All runs with this serial number, in the order of writing, and the status of the fixture
 * by them; undefined where there is none.
 */
export const fixtureHistoryOf = (
  serial: string,
  all: readonly RunSummary[],
  standing: ReleaseStatus | undefined,
): FixtureHistory | undefined => {
  const runs = realFirst(all);
  const last = runs.at(-1);
  if (!last || !standing) return undefined;
  return {
    serial,
    profile: last.profile,
    simulated: last.simulated,
    standing,
    runs: runs.map((run, index) => pastRun(run, runs[index - 1])),
    functions: functionsIn(runs),
    symptoms: symptomsIn(runs),
    parts: partsIn(runs),
    returns: returnsIn(runs),
    counted: countedIn(runs),
  };
};

const countedIn = (runs: readonly RunSummary[]): readonly Counted[] => {
  const read = runs.flatMap(({ run, at, counters }) => (counters ? [{ run, at, counters }] : []));
  return read.map((one, index) => ({ ...one, backwards: backwards(read[index - 1]?.counters ?? {}, one.counters) }));
};

/** Counters of a fixture only rise. */
const backwards = (before: FixtureCounters, now: FixtureCounters): readonly CounterName[] =>
  COUNTER_NAMES.filter((name) => (before[name] ?? 0) > (now[name] ?? Number.POSITIVE_INFINITY));

const pastRun = (brief: RunSummary, before: RunSummary | undefined): PastRun => {
  const { run, bench, person, at, minutes, profile, sequence, replays, ended } = brief;
  const { looks, finds, repairs, readings, cleanings, decisions } = brief;
  return {
    run,
    bench,
    person,
    at,
    minutes,
    hoursSince: before && hoursBetween(before, brief),
    profile,
    sequence,
    replays,
    ended,
    counts: countsOf(brief.steps),
    wrong: brief.steps.flatMap(wrongStep),
    looks,
    finds,
    repairs,
    readings,
    cleanings,
    decisions,
    doubt: before && dateDoubt(before, brief),
  };
};

/** Runs come in the order of writing: one dated long before what was written before it, or years after, has a wrong clock. */
const dateDoubt = (before: RunSummary, { at }: RunSummary): string | undefined => {
  const days = (Date.parse(at) - Date.parse(before.until)) / 86_400_000;
  if (days < -1) return `dated ${Math.round(-days)} days before what was written before it: a clock was wrong`;
  return days > MOST_DAYS
    ? `dated ${Math.round(days / 365)} years after the run before: was a clock wrong?`
    : undefined;
};
const MOST_DAYS = 3 * 365;

const countsOf = (steps: readonly SummaryStep[]): PastRun["counts"] => {
  const counts: Partial<Record<StepResult, number>> = {};
  for (const { result } of steps) counts[result] = (counts[result] ?? 0) + 1;
  return counts;
};

const wrongStep = ({ id, routine, functions, result, symptoms, note }: SummaryStep): readonly PastStep[] =>
  result === "fail" || result === "unsure" ? [{ id, routine, functions, result, symptoms, note }] : [];

/** How a function did, run by run. */
export interface FunctionPast {
  readonly function: FunctionId | "fixture";
  /** The worst step of each run that tested it, oldest first. */
  readonly results: readonly { readonly run: string; readonly at: string; readonly worst: Telling }[];
}

/** Worst first. All other results say nothing about a fixture. */
const TELLING = ["fail", "unsure", "pass"] as const;
type Telling = (typeof TELLING)[number];

/**
 * The past of each function that was tested at least once, in the order of the trade's
 * list; the fixture as a whole comes last.
 */
export const functionsIn = (runs: readonly RunSummary[]): readonly FunctionPast[] =>
  [...FUNCTION_IDS, "fixture" as const]
    .map((id) => ({ function: id, results: runs.flatMap((run) => resultIn(run, id)) }))
    .filter(({ results }) => results.length > 0);

const resultIn = ({ run, at, steps }: RunSummary, id: FunctionPast["function"]): FunctionPast["results"] => {
  const results = steps.filter((step) => speaksOf(step, id)).map(({ result }) => result);
  const worst = TELLING.find((one) => results.includes(one));
  return worst ? [{ run, at, worst }] : [];
};

/** A step that moves two functions and went wrong at one of them says nothing of the other. */
const speaksOf = ({ functions, symptoms }: SummaryStep, id: FunctionPast["function"]): boolean => {
  if (id === "fixture") return functions.length === 0;
  const blamed = symptoms.flatMap((one) => one.function ?? []);
  return functions.includes(id) && (blamed.length === 0 || blamed.includes(id));
};

import { fittedOf } from "../../data/profile/profile.ts";
import { type Advice, whatNext } from "../../diagnosis/model/next.ts";
import type { InspectionAnswer, Observation } from "../../diagnosis/model/observation.ts";
import { drivableOn } from "../../diagnosis/model/probe.ts";
import { type Ranked, rank } from "../../diagnosis/model/rank.ts";
import { NOTHING_LEARNED } from "../../diagnosis/model/shop.ts";
import { type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import { memoryJournal } from "../../io/store/memory.ts";
import type { EventBody } from "../../run/events/event.ts";
import { answersOf, observationsOf } from "../../run/events/observations.ts";
import { type AddedTest, addedTests } from "../../run/events/step-results.ts";
import { type RunView, viewOf } from "../../run/events/view.ts";
import type { DataLibrary, DiagnosisDoor } from "../../run/ports.ts";
import { diagnosedHere } from "../../run/shell/diagnosis-thread.ts";
import type { Signals } from "../../run/shell/signals.ts";
import { chanceFrom, seedFor } from "../../sim/chance.ts";
import { WATCHERS } from "../../sim/observer/habits.ts";
import { PHYSICAL_FAULTS, STRANGE_FAULTS } from "../../sim/physical/faults.ts";
import type { Names } from "../common/data.ts";
import { RIGHT_ANSWERS } from "./right-answers.ts";
import { playSimulated, simulatedJob } from "./start.ts";

/** One simulated fixture to be tried: what is set in it, and the seed of everything that is left to chance. */
export interface PlannedCase {
  readonly kind: "one" | "two" | "strange" | "clean";
  readonly set: readonly string[];
  readonly seed: number;
}

/** What came of it. Plain data, kept line by line, so that a trial that was broken off goes on where it was. */
export interface TriedCase extends PlannedCase {
  readonly watcher: number;
  /** Whether it is one of the faults that were set aside. */
  readonly aside: boolean;
  /** The answers that a repairer would accept, for each thing that was set. */
  readonly right: readonly (readonly string[])[];
  readonly ranked: readonly { readonly id: string; readonly probability: number }[];
  /** The same before any of what was offered was done. */
  readonly rankedBefore: readonly { readonly id: string; readonly probability: number }[];
  readonly settled: readonly string[];
  /** How many minutes were watched. */
  readonly watchedMinutes: number;
  /** How many of the observations, the last ones, were made in steps that were added: offered tests, and mains watched as it returned for them. */
  readonly followUps: number;
  /** The offered tests that were run. */
  readonly tests: readonly AddedTest[];
  /** Whether nothing was reported before them. */
  readonly quiet: boolean;
  /** The offered inspections that were made, in their order. */
  readonly inspected: readonly InspectionAnswer[];
  /** After how many of them it was closed and driven again, each time that it was. */
  readonly closedAfter: readonly number[];
  readonly observations: readonly Observation[];
}

/** What was seen before any test was added. */
export const plannedOnly = ({ observations, followUps }: TriedCase): readonly Observation[] =>
  observations.slice(0, observations.length - followUps);

/** Two at once in 15 of 100 fixtures with something set, something on no list in 10. */
const TWO = 0.15;
const STRANGE = 0.1;

/**
 * The cases of a trial: every fault by itself, pairs drawn from all of them, things on no list, and one clean fixture for
 * every five others. Each case has a seed of its own. `runs` is how many runs each fault has, at least 1, and `seed` is
 * the whole number that the first run has.
 */
export const planCases = (
  settable: readonly string[],
  strange: readonly string[],
  runs: number,
  seed: number,
): readonly PlannedCase[] => {
  const singles = settable.flatMap((fault) =>
    Array.from({ length: runs }, () => ({ kind: "one" as const, set: [fault] })),
  );
  const share = singles.length / (1 - TWO - (strange.length > 0 ? STRANGE : 0));
  const draw = chanceFrom(seedFor(seed, "pairs"));
  const pick = (from: readonly string[]) => from[Math.floor(draw() * from.length)] ?? "";
  const pairs = Array.from({ length: Math.round(share * TWO) }, () => {
    const first = pick(settable);
    return { kind: "two" as const, set: [first, pick(settable.filter((id) => id !== first))] };
  });
  const others =
    strange.length === 0
      ? []
      : Array.from({ length: Math.round(share * STRANGE) }, () => ({ kind: "strange" as const, set: [pick(strange)] }));
  const clean = Array.from({ length: Math.max(runs, Math.round(share / 5)) }, () => ({
    kind: "clean" as const,
    set: [],
  }));
  return [...singles, ...pairs, ...others, ...clean].map((one, n) => ({
    ...one,
    seed: seedFor(seed, `case ${n}`) % 1_000_000,
  }));
};

/**
 * One run of a sequence on a fixture as made, watched by one of three people who then do what is offered first, a test or an
 * inspection, by the same pages as anybody. `followUps` is how often they do so at most, from 0; `diagnosis` is what is
 * asked what to offer.
 */
export const tryCase = async (
  shelf: DataLibrary,
  names: Names,
  followUps: number,
  plannedCase: PlannedCase,
  diagnosis: DiagnosisDoor = diagnosedHere,
): Promise<TriedCase> => {
  const { set, seed } = plannedCase;
  const watcher = seed % WATCHERS.length;
  const order = { names, address: 1, set, seed, drawFrom: "all", copy: "made" } as const;
  const made = simulatedJob(shelf, order, "attended");
  const habits = WATCHERS[watcher];
  if (!made.ok || !habits) throw new Error("Bug: a fault that can be set could not be set");
  const journal = memoryJournal();
  const chosen = await playSimulated(
    made.value,
    "trial",
    journal,
    { seed, habits, followUps },
    ENDS_AT_ONCE,
    diagnosis,
  );
  const bodies = (await journal.events("trial")).map(({ body }) => body);
  const view = viewOf(bodies);
  const { profile, bench } = made.value.material;
  const fitted = fittedOf(profile.value);
  const planView = { ...view, steps: view.steps.slice(0, view.steps.length - view.added.length), added: [] };
  const [planned, seen] = [observationsOf(planView, profile.value), observationsOf(view, profile.value)];
  const answers = answersOf(view);
  const inspected = answers.filter((one) => chosen.includes(one.inspection));
  const closedAfter = closuresIn(bodies, chosen);
  const open = inspected.slice(closedAfter.at(-1) ?? 0).map((one) => inspection(one.inspection).cover);
  const drivable = drivableOn(profile.value, bench.value);
  const advice = whatNext(fitted, seen, answers, open, NOTHING_LEARNED, drivable);
  const before = answers.filter((one) => !inspected.includes(one));
  const quiet = planView.steps.every(({ judged }) => judged?.result !== "fail" && judged?.result !== "unsure");
  return {
    ...plannedCase,
    watcher,
    aside: set.some((one) => PHYSICAL_FAULTS.find(({ id }) => id === one)?.aside ?? false),
    right: set.map((one) => RIGHT_ANSWERS[one] ?? []),
    ranked: faultNames(rank(fitted, seen, answers).faults),
    rankedBefore: faultNames(rank(fitted, planned, before).faults),
    // Where a doubt is left that nothing explains, nobody says that it is conclusive.
    settled: quiet || advice.kind === "settled" ? settledIn(advice) : [],
    watchedMinutes: watchedIn(bodies),
    followUps: seen.length - planned.length,
    tests: testsRun(view),
    quiet,
    inspected,
    closedAfter,
    observations: seen,
  };
};

/** A case that was broken off tells nothing and would be kept: whoever ends a trial ends it in the middle of one. */
const ENDS_AT_ONCE: Signals = () => () => {};

/** Minutes watched: as they stood before each rest, after which they are counted anew, and at the end. */
const watchedIn = (bodies: readonly EventBody[]): number => {
  const counted = bodies.flatMap((body) => (body.kind === "step-judged" ? [body.on_watch_min] : []));
  return counted.reduce((sum, minutes, n) => ((counted[n + 1] ?? 0) < minutes ? sum + minutes : sum), 0);
};

/** After how many of the chosen inspections a step was played again. */
const closuresIn = (bodies: readonly EventBody[], chosen: readonly InspectionId[]): readonly number[] => {
  const after = new Set<number>();
  let made = 0;
  for (const body of bodies) {
    if (body.kind === "inspected" && chosen.includes(body.inspection)) made += 1;
    if (body.kind === "step-started" && made > 0) after.add(made);
  }
  return [...after];
};

/** What was chosen and never played, because an inspection had found a danger that forbids mains, is no test. */
const testsRun = ({ steps, added }: RunView): readonly AddedTest[] => {
  const own = steps.slice(steps.length - added.length);
  const isPlayed = (_: unknown, at: number) => own[at]?.judged !== undefined;
  return addedTests({ steps: own.filter(isPlayed), added: added.filter(isPlayed) });
};

/** What is called conclusive; "nothing-broken" where nothing speaks for a fault. */
export const settledIn = (advice: Advice): readonly string[] =>
  advice.kind === "settled" ? [advice.on, ...advice.also] : advice.kind === "nothing-found" ? ["nothing-broken"] : [];

const MOST_KEPT = 8;

/** The likeliest answers, as they are kept. */
export const faultNames = (faults: readonly Ranked[]) =>
  faults.slice(0, MOST_KEPT).map(({ id, probability }) => ({ id, probability: Number(probability.toPrecision(6)) }));

export const STRANGE_IDS: readonly string[] = STRANGE_FAULTS.map(({ id }) => id);

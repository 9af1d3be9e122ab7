import { fittedOf } from "../../data/profile/profile.ts";
import { type Advice, whatNext } from "../../diagnosis/model/next.ts";
import type { InspectionAnswer, Observation } from "../../diagnosis/model/observation.ts";
import type { Fitted } from "../../diagnosis/model/places.ts";
import { type Drivable, drivableOn } from "../../diagnosis/model/probe.ts";
import { type Ranked, rank } from "../../diagnosis/model/rank.ts";
import { NOTHING_LEARNED } from "../../diagnosis/model/shop.ts";
import type { CoverId } from "../../domain/trade/hold-points.ts";
import { inspection } from "../../domain/trade/inspections.ts";
import { memoryJournal } from "../../io/store/memory.ts";
import { answersOf, observationsOf } from "../../run/events/observations.ts";
import { type AddedTest, addedTests } from "../../run/events/step-results.ts";
import { viewOf } from "../../run/events/view.ts";
import type { DataLibrary } from "../../run/ports.ts";
import { chanceFrom, seedFor } from "../../sim/chance.ts";
import { WATCHERS } from "../../sim/observer/habits.ts";
import { PHYSICAL_FAULTS, STRANGE_FAULTS } from "../../sim/physical/faults.ts";
import type { Hands } from "../../sim/watcher.ts";
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
  /** Steps that were added for tests that were offered, and then offered inspections that were made, the fixture unplugged for them. */
  readonly followUps: number;
  /** The tests that they were. */
  readonly tests: readonly AddedTest[];
  /** Whether nothing was reported before them. */
  readonly quiet: boolean;
  readonly inspected: readonly InspectionAnswer[];
  readonly observations: readonly Observation[];
}

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
 * One run of a sequence on a fixture as made, watched by one of three people, and what is offered first then. `followUps`
 * is how many of the offered tests are run, from 0.
 */
export const tryCase = async (
  shelf: DataLibrary,
  names: Names,
  followUps: number,
  planned: PlannedCase,
): Promise<TriedCase> => {
  const { set, seed } = planned;
  const watcher = seed % WATCHERS.length;
  const order = { names, address: 1, set, seed, drawFrom: "all", copy: "made" } as const;
  const made = simulatedJob(shelf, order, "attended");
  const habits = WATCHERS[watcher];
  if (!made.ok || !habits) throw new Error("Bug: a fault that can be set could not be set");
  const journal = memoryJournal();
  await playSimulated(made.value, "trial", journal, { seed, habits, followUps });
  const view = viewOf((await journal.events("trial")).map(({ body }) => body));
  const profile = made.value.material.profile.value;
  const fitted = fittedOf(profile);
  const planView = { ...view, steps: view.steps.slice(0, view.steps.length - view.added.length) };
  const seen = observationsOf(view, profile);
  const opened = inspectOffered(
    { fitted, seen, drivable: drivableOn(profile, made.value.material.bench.value) },
    answersOf(view),
    made.value.bench.hands,
    followUps - addedTests(view).length,
  );
  const { faults } = rank(fitted, seen, opened.answers);
  const quiet = planView.steps.every(({ judged }) => judged?.result !== "fail" && judged?.result !== "unsure");
  return {
    ...planned,
    watcher,
    aside: set.some((one) => PHYSICAL_FAULTS.find(({ id }) => id === one)?.aside ?? false),
    right: set.map((one) => RIGHT_ANSWERS[one] ?? []),
    ranked: faultNames(faults),
    rankedBefore: faultNames(rank(fitted, observationsOf(planView, profile), answersOf(view)).faults),
    // Where a doubt is left that nothing explains, nobody says that it is conclusive.
    settled: quiet || opened.advice.kind === "settled" ? settledIn(opened.advice) : [],
    watchedMinutes: view.steps.reduce((sum, { judged }) => Math.max(sum, judged?.on_watch_min ?? 0), 0),
    followUps: view.added.length,
    tests: addedTests(view),
    quiet,
    inspected: opened.answers.slice(answersOf(view).length),
    observations: seen,
  };
};

/** What is called conclusive; "nothing-broken" where nothing speaks for a fault. */
export const settledIn = (advice: Advice): readonly string[] =>
  advice.kind === "settled" ? [advice.on, ...advice.also] : advice.kind === "nothing-found" ? ["nothing-broken"] : [];

interface WatchedCase {
  readonly fitted: readonly Fitted[];
  readonly seen: readonly Observation[];
  readonly drivable: Drivable;
}

/**
 * Makes an inspection as long as one is offered first, with covers that stay off. `most` is how many at most, from 0. From
 * then on nothing is driven: that would need closing and a new start.
 */
export function inspectOffered(
  { fitted, seen, drivable }: WatchedCase,
  answers: readonly InspectionAnswer[],
  hands: Hands,
  most: number,
  open: readonly CoverId[] = [],
): { readonly answers: readonly InspectionAnswer[]; readonly advice: Advice } {
  const advice = whatNext(fitted, seen, answers, open, NOTHING_LEARNED, drivable);
  const first = advice.kind === "offers" ? advice.offers[0] : undefined;
  if (most <= 0 || first?.kind !== "inspection") return { answers, advice };
  const { inspection: id } = first;
  const after = [...answers, { inspection: id, answer: hands.look(id) }];
  const { cover } = inspection(id);
  return inspectOffered({ fitted, seen, drivable: STANDS }, after, hands, most - 1, [...new Set([...open, cover])]);
}

/** With its covers off nothing is driven. */
export const STANDS: Drivable = { canRun: () => false, leaning: undefined };

const MOST_KEPT = 8;

/** The likeliest answers, as they are kept. */
export const faultNames = (faults: readonly Ranked[]) =>
  faults.slice(0, MOST_KEPT).map(({ id, probability }) => ({ id, probability: Number(probability.toPrecision(6)) }));

export const STRANGE_IDS: readonly string[] = STRANGE_FAULTS.map(({ id }) => id);

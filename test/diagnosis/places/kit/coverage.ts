import { assess } from "../../../../src/diagnosis/places/assessment.ts";
import { chanceFrom } from "../../../../src/sim/chance.ts";
import type { Watcher } from "./presser.ts";
import { stepOf } from "./rig.ts";
import { ordinary, watched } from "./session.ts";

/** Who watches which movement: one square of the grid over which an interval has to keep its word. */
export interface Cell {
  readonly person: PersonName;
  /** Each way. */
  readonly passes: number;
  readonly degPerSecond: number;
}

/** What a person or fixture may be like, one thing at a time. */
const PEOPLE = {
  "equal lags": (usual) => ({ ...usual, misses: 0, strays: 0 }),
  "150 ms later on the way up": (usual) => ({ ...usual, misses: 0, strays: 0, laterUp: 0.15 }),
  "reaction with heavy tails": (usual) => ({ ...usual, misses: 0, strays: 0, tail: 0.25 }),
  "10 % misses and false presses": (usual) => usual,
  "all of it at once": (usual) => ({ ...usual, laterUp: 0.15, tail: 0.25 }),
} as const satisfies Readonly<Record<string, (usual: Watcher) => Watcher>>;
export type PersonName = keyof typeof PEOPLE;
export const PERSON_NAMES = Object.keys(PEOPLE) as readonly PersonName[];

export const GRID: readonly Cell[] = PERSON_NAMES.flatMap((person) =>
  [2, 5, 10].flatMap((passes) => [30, 60, 120].map((degPerSecond) => ({ person, passes, degPerSecond }))),
);

export interface Coverage {
  /** Of so many simulated runs. */
  readonly runs: number;
  /** Runs that ended with a place and a 95 % interval; the others are inconclusive. */
  readonly given: number;
  /** Intervals that held the place that was set. */
  readonly held: number;
}

/** The same for the same seeds. Simulated presses: they show that the arithmetic keeps its word, not that people press so. */
export const coverageOf = ({ person, passes, degPerSecond }: Cell, runs: number): Coverage => {
  const step = stepOf(`{ sweep: Pan, deg_per_s: ${degPerSecond}, passes: ${2 * passes} }`);
  const outcomes = Array.from({ length: runs }, (_, seed) => {
    const chance = chanceFrom(seed * 7919 + 29);
    const place = -180 + 360 * chance();
    const found = assess(watched([step], { kind: "position", place }, PEOPLE[person](ordinary(chance)), chance));
    const interval = found?.settled?.pattern.kind === "position" ? found.place?.interval : undefined;
    return interval && { held: interval.low <= place && place <= interval.high };
  }).filter((one) => one !== undefined);
  return { runs, given: outcomes.length, held: outcomes.filter(({ held }) => held).length };
};

import { assess } from "../../../src/diagnosis/places/assessment.ts";
import type { Watch } from "../../../src/diagnosis/places/watch.ts";
import { placeAt } from "../../../src/plan/sample.ts";
import type { CompiledStep } from "../../../src/plan/timeline.ts";
import { chanceFrom } from "../../../src/sim/chance.ts";
import type { Watcher } from "../../diagnosis/places/kit/presser.ts";
import { spot, stepOf } from "../../diagnosis/places/kit/rig.ts";
import { ordinary, watched } from "../../diagnosis/places/kit/session.ts";
import { type Row, row } from "../line/row.ts";

const SEEDS = 200;

/** A bad spot set anywhere on pan, 5 passes each way at 60 degrees a second, a watcher with 10 % misses and 10 % false presses. */
export const placeRows = (): readonly Row[] => {
  const step = stepOf("{ sweep: Pan, deg_per_s: 60, passes: 10 }");
  const clean = trials(step, (watcher) => ({ ...watcher, misses: 0, strays: 0 }));
  const usual = trials(step, (watcher) => watcher);
  const unlike = trials(step, (watcher) => ({
    ...watcher,
    misses: 0.15,
    strays: 0.15,
    lag: 0.45,
    slowness: 0.15,
    tail: 0.2,
  }));
  return [
    ...rowsOf("clean", clean),
    ...rowsOf("10 % misses, 10 % false", usual),
    ...rowsOf("slower and less even than assumed, 15 % misses, 15 % false", unlike),
  ];
};

interface Trial {
  readonly off: number | undefined;
  readonly holds: boolean | undefined;
  /** Of every press: where the fixture was told to be when the key came. */
  readonly pressed: readonly number[];
}

const trials = (step: CompiledStep, change: (watcher: Watcher) => Watcher): readonly Trial[] =>
  Array.from({ length: SEEDS }, (_, seed) => {
    const chance = chanceFrom(seed * 7919 + 13);
    const place = -240 + 480 * chance();
    const watches = watched([step], { kind: "position", place }, change(ordinary(chance)), chance);
    const found = assess(watches)?.place;
    const interval = found?.interval;
    return {
      off: found && found.at - place,
      holds: interval && interval.low <= place && interval.high >= place,
      pressed: watches.flatMap((watch) => pressedAt(step, watch)).map((at) => at - place),
    };
  });

const pressedAt = (step: CompiledStep, { presses }: Watch): readonly number[] =>
  presses.flatMap((time) => placeAt(spot, step, "Pan", Math.round(time * 40)) ?? []);

const rowsOf = (who: string, all: readonly Trial[]): readonly Row[] => {
  const found = all.flatMap(({ off }) => off ?? []);
  const held = all.flatMap(({ holds }) => holds ?? []);
  const naive = all.flatMap(({ pressed }) => pressed);
  return [
    row(
      `simulated, ${who}: place, root mean square error of ${SEEDS} (other: place when the key came)`,
      "deg",
      rms(found),
      rms(naive),
    ),
    row(`simulated, ${who}: the same, median size`, "deg", medianSize(found), medianSize(naive)),
    row(`simulated, ${who}: a place was found`, "% of runs", (100 * found.length) / all.length),
    row(`simulated, ${who}: with an interval`, "% of runs", (100 * held.length) / all.length),
    row(
      `simulated, ${who}: the interval holds the place`,
      "% of these",
      (100 * held.filter(Boolean).length) / held.length,
    ),
  ];
};

const rms = (errors: readonly number[]): number =>
  Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length);
const medianSize = (errors: readonly number[]): number =>
  errors.map(Math.abs).sort((a, b) => a - b)[Math.floor(errors.length / 2)] ?? Number.NaN;

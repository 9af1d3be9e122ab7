import type { Profile } from "../../../../src/data/profile/profile.ts";
import type { FunctionId } from "../../../../src/domain/trade/functions.ts";
import { FRAME_SECONDS } from "../../../../src/domain/units.ts";
import { placeAt } from "../../../../src/plan/sample.ts";
import type { CompiledStep } from "../../../../src/plan/timeline.ts";
import { exGaussian, type SimDraw } from "../../../../src/sim/chance.ts";

/** What is set: where in the travel something happens, each time or now and then. */
export type Truth =
  | { readonly kind: "position"; readonly place: number }
  | { readonly kind: "one-way"; readonly place: number; readonly way: "up" | "down" }
  | { readonly kind: "all-along"; readonly way: "up" | "down" }
  | { readonly kind: "ends"; readonly low: boolean; readonly high: boolean }
  | { readonly kind: "turn-rounds" }
  | { readonly kind: "no-place"; readonly perSecond: number };

/** Who watches, and how late the fixture follows. */
export interface Watcher {
  readonly lag: number;
  /** So much later on the way up than on the way down, half of it each. */
  readonly laterUp: number;
  readonly misses: number;
  /** False presses for each pass. */
  readonly strays: number;
  /** Later than the usual reaction. */
  readonly slowness: number;
  /** Mean of the slow part of the reaction; the usual is 0.1 s. */
  readonly tail: number;
}

interface Movement {
  readonly way: "up" | "down";
  readonly begin: number;
  readonly end: number;
  readonly places: readonly number[];
}

/** The presses of a simulated person for a set trouble: found by looking at every commanded frame, not by our own passes. */
export const pressesFor = (
  profile: Profile,
  step: CompiledStep,
  id: FunctionId,
  truth: Truth,
  watcher: Watcher,
  chance: SimDraw,
): readonly { readonly frame: number; readonly after: number }[] => {
  const movements = movementsOf(profile, step, id);
  const laterAt = (time: number): number => {
    const way = movements.find(({ begin, end }) => begin <= time && time <= end)?.way;
    return way === undefined ? 0 : ((way === "up" ? 1 : -1) * watcher.laterUp) / 2;
  };
  const noticed = eventsOf(profile, id, movements, truth, chance, step.frames * FRAME_SECONDS)
    .filter(() => chance() >= watcher.misses)
    .map((time) => time + watcher.lag + laterAt(time) + watcher.slowness + exGaussian(chance, 0.3, 0.05, watcher.tail));
  const strays = movements.flatMap(({ begin, end }) =>
    chance() < watcher.strays ? [begin + chance() * (end - begin)] : [],
  );
  const times = [...noticed, ...strays].sort((a, b) => a - b);
  return times.map((after) => ({ frame: Math.floor(after / FRAME_SECONDS), after }));
};

const eventsOf = (
  profile: Profile,
  id: FunctionId,
  movements: readonly Movement[],
  truth: Truth,
  chance: SimDraw,
  length: number,
): readonly number[] => {
  switch (truth.kind) {
    case "position":
      return movements.flatMap((movement) => crossed(movement, truth.place));
    case "one-way":
      return movements.filter(({ way }) => way === truth.way).flatMap((movement) => crossed(movement, truth.place));
    case "all-along":
      return movements.filter(({ way }) => way === truth.way).map(({ begin, end }) => begin + chance() * (end - begin));
    case "turn-rounds":
      return movements.map(({ end }) => end);
    case "ends": {
      const travel = profile.functions.get(id);
      if (travel?.kind !== "travel") return [];
      const at = (place: number | undefined, end: number) => Math.abs((place ?? Number.NaN) - end) < 0.01;
      return movements
        .filter(
          ({ places }) => (truth.low && at(places.at(-1), travel.from)) || (truth.high && at(places.at(-1), travel.to)),
        )
        .map(({ end }) => end);
    }
    case "no-place": {
      const times: number[] = [];
      for (let t = gap(truth.perSecond, chance); t < length; t += gap(truth.perSecond, chance)) times.push(t);
      return times;
    }
  }
};

const gap = (perSecond: number, chance: SimDraw): number => -Math.log(1 - chance()) / perSecond;

/** Between two frames on either side of the place, by the even speed. */
const crossed = ({ begin, places }: Movement, place: number): readonly number[] => {
  const next = places.findIndex((there, i) => i > 0 && ((places[i - 1] ?? there) - place) * (there - place) <= 0);
  if (next < 1) return [];
  const [before, after] = [places[next - 1] ?? 0, places[next] ?? 0];
  return [begin + (next - 1 + (place - before) / (after - before)) * FRAME_SECONDS];
};

const movementsCache = new WeakMap<CompiledStep, readonly Movement[]>();
const movementsOf = (profile: Profile, step: CompiledStep, id: FunctionId): readonly Movement[] => {
  const known = movementsCache.get(step);
  if (known) return known;
  const place = (n: number) => placeAt(profile, step, id, n) ?? Number.NaN;
  const found: Movement[] = [];
  for (let n = step.leadIn; n < step.frames; n++) {
    const way = Math.sign(place(n + 1) - place(n));
    if (way === 0) continue;
    const begin = n;
    const places = [place(n)];
    while (n < step.frames && Math.sign(place(n + 1) - place(n)) === way) places.push(place(++n));
    found.push({ way: way > 0 ? "up" : "down", begin: begin * FRAME_SECONDS, end: n * FRAME_SECONDS, places });
    n--;
  }
  movementsCache.set(step, found);
  return found;
};

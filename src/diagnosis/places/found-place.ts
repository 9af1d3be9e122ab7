import { complement, depthOf, normalQuantile, studentQuantile } from "../../domain/statistics/distributions.ts";
import { leastSquares, mean, median, variance } from "../../domain/statistics/sample.ts";
import type { Probability, Seconds } from "../../domain/units.ts";
import { fitPlay, type PlacedPress, type PlayFit } from "./spots.ts";

/** Where it happened, from the presses that belong to one place. */
export interface FoundPlace {
  readonly at: number;
  /** 95 %. From two speeds, or from the midpoints with room for a lag that differs by direction; undefined with too few presses for either. */
  readonly interval: { readonly low: number; readonly high: number } | undefined;
  /** The midpoints at the speed at which they say most. */
  readonly midpoints: MidPlace;
  readonly mean: MeanPlace;
  /** The speed, a second, without sign. */
  readonly speed: number;
  /** The time from the event to the press: the fixture's lag and the person's reaction. */
  readonly delay: Seconds;
  /** How much play there is; undefined without presses at two speeds. */
  readonly play: PlayFit | undefined;
}

/**
 * The place behind presses, with its interval. Undefined without a press each way at the same speed: one way alone cannot
 * tell the place from the reaction. A fixture may answer later one way than the other (weight, belts); at one speed that
 * cannot be told from another place, so the interval leaves room for it, and two speeds tell it.
 */
export const foundPlace = (spots: readonly PlacedPress[]): FoundPlace | undefined => {
  const speeds = speedsOf(spots);
  const found = speeds.flatMap((speed) => atSpeed(spots, speed) ?? []);
  const [best] = [...found].sort((a, b) => width(a.midpoints) - width(b.midpoints));
  if (!best) return undefined;
  const directed = speeds.length > 1 ? fitDirected(spots) : undefined;
  const { midpoints, mean: plain, speed, delay } = best;
  return {
    midpoints,
    mean: plain,
    speed,
    delay,
    at: directed?.at ?? best.midpoints.at,
    interval: withGive(directed?.interval ?? withRoom(best), spots),
    play: speeds.length > 1 ? fitPlay(spots) : undefined,
  };
};

/** How much later a fixture answers one way than the other, at most. Judgement. */
const LATER_ONE_WAY_S: Seconds = 0.15;

/**
 * Half of what is later one way shifts the midpoint, in proportion to the speed. How much it is the presses cannot say, so that
 * the place is known only up to a stretch. Wherever in that stretch it lies, it is missed beyond one end and hardly ever beyond
 * the other: one tail of 5 % at each end holds it with 95 %, where the stretch is long beside the scatter (Imbens and Manski
 * 2004). Where nothing is later one way it holds the place more often than that; no interval from one speed can do both.
 */
const withRoom = ({ up, down, speed }: AtSpeed): FoundPlace["interval"] => {
  const room = (speed * LATER_ONE_WAY_S) / 2;
  const scatter = midpointMedian(up, down, 1 - 2 * TAIL)?.interval;
  if (!scatter) return undefined;
  const error = (scatter.high - scatter.low) / 2 / normalQuantile(1 - TAIL);
  const interval = midpointMedian(
    up,
    down,
    bothTails(error === 0 ? Number.POSITIVE_INFINITY : (2 * room) / error),
  )?.interval;
  return interval && { low: interval.low - room, high: interval.high + room };
};

const TAIL: Probability = 0.05;

/**
 * How much of the scatter the interval must hold at each of its ends, both taken together: 90 % beside a long stretch, 95 % where
 * there is none. `stretch` is its length in standard errors.
 */
const bothTails = (stretch: number): Probability => {
  let [low, high] = [normalQuantile(1 - TAIL), normalQuantile(1 - TAIL / 2)];
  for (let i = 0; i < HALVINGS; i++) {
    const reach = (low + high) / 2;
    if (below(reach + stretch) - below(-reach) < 1 - TAIL) low = reach;
    else high = reach;
  }
  return 2 * below(high) - 1;
};
const HALVINGS = 30;
const below = (x: number): Probability => 1 - complement(x / Math.SQRT2) / 2;

/**
 * Presses over the air are each off by something within their give. Taken as even within it and as independent of each other
 * (judgement: what all have in common cancels between the ways), 1.96 standard errors of their mean.
 */
const withGive = (interval: FoundPlace["interval"], spots: readonly PlacedPress[]): FoundPlace["interval"] => {
  const squares = spots.reduce((sum, { give = 0, velocity }) => sum + (give * velocity) ** 2 / 3, 0);
  if (!interval || squares === 0) return interval;
  const room = (NORMAL_975 * Math.sqrt(squares)) / spots.length;
  return { low: interval.low - room, high: interval.high + room };
};
const NORMAL_975 = 1.96;

/**
 * Least squares of place on 1, direction, velocity and speed: what is later one way grows with
 * the speed, the place does not. Each divided by its speed, since people scatter in time and not in degrees.
 */
const fitDirected = (spots: readonly PlacedPress[]) => {
  const fit = leastSquares(
    spots.map(({ velocity }) =>
      [1, Math.sign(velocity), velocity, Math.abs(velocity)].map((one) => one / Math.abs(velocity)),
    ),
    spots.map(({ place, velocity }) => place / Math.abs(velocity)),
  );
  const at = fit?.[0];
  const spare = spots.length - DIRECTED_UNKNOWNS;
  if (at?.error === undefined || spare < ENOUGH_SPARE) return undefined;
  const reach = at.error * studentQuantile(0.975, spare);
  return { at: at.value, interval: { low: at.value - reach, high: at.value + reach } };
};

const DIRECTED_UNKNOWNS = 4;
/** With fewer presses beyond the unknowns a single late one decides. Judgement. */
const ENOUGH_SPARE = 4;

type AtSpeed = Pick<FoundPlace, "midpoints" | "mean" | "speed" | "delay"> & {
  readonly up: readonly number[];
  readonly down: readonly number[];
};

const atSpeed = (spots: readonly PlacedPress[], speed: number): AtSpeed | undefined => {
  const those = spots.filter(({ velocity }) => sameSpeed(Math.abs(velocity), speed));
  const [ups, downs] = [those.filter(({ way }) => way === "up"), those.filter(({ way }) => way === "down")];
  const [up, down] = [ups.map(({ place }) => place), downs.map(({ place }) => place)];
  const midpoints = midpointMedian(up, down);
  const mean = meanPlace(up, down);
  const delay = delayBetween(up, down, ups[0]?.velocity ?? speed);
  return midpoints && mean && delay !== undefined ? { midpoints, mean, speed, delay, up, down } : undefined;
};

/** Every speed once, in the order of appearance; two within two percent are one. */
export const speedsOf = (spots: readonly { readonly velocity: number }[]): readonly number[] => {
  const speeds = spots.map(({ velocity }) => Math.abs(velocity));
  return speeds.filter((speed, i) => !speeds.slice(0, i).some((earlier) => sameSpeed(earlier, speed)));
};

const sameSpeed = (a: number, b: number): boolean => Math.abs(a - b) <= 0.02 * Math.max(a, b);

/** Without an interval a place counts as wider than any that has one; of those, the one with more presses is better. */
const width = ({ interval, up, down }: MidPlace): number =>
  interval ? interval.high - interval.low : Number.MAX_VALUE / (up + down);

/** Where something happened by plain averages: sharper than the midpoint median when every press is good, misled by a single wrong one. */
interface MeanPlace {
  readonly at: number;
  /** Standard error; undefined with fewer than two presses a way. */
  readonly error: number | undefined;
  /** 95 % by Welch 1947, for two ways that scatter differently. */
  readonly interval: { readonly low: number; readonly high: number } | undefined;
}

/**
 * The mean of the two ways' means: lag and reaction cancel. The interval is Welch's (1947). `up` and `down` are the places
 * of presses each way, in the travel's unit. Undefined without a press each way.
 */
export const meanPlace = (
  up: readonly number[],
  down: readonly number[],
  confidence: Probability = 0.95,
): MeanPlace | undefined => {
  if (up.length === 0 || down.length === 0) return undefined;
  const at = (mean(up) + mean(down)) / 2;
  if (up.length < 2 || down.length < 2) return { at, error: undefined, interval: undefined };
  const [a, b] = [variance(up) / up.length, variance(down) / down.length];
  const error = Math.sqrt(a + b) / 2;
  if (error === 0) return { at, error, interval: { low: at, high: at } };
  const freedom = (a + b) ** 2 / (a ** 2 / (up.length - 1) + b ** 2 / (down.length - 1));
  const reach = error * studentQuantile((1 + confidence) / 2, freedom);
  return { at, error, interval: { low: at - reach, high: at + reach } };
};

/**
 * The time from the event itself to the press: the fixture's lag and the person's reaction together. `up` and `down`
 * are the places of presses each way, in the travel's unit; `velocity` is that of the way up, in that unit per
 * second. Undefined without a press each way.
 */
export const delayBetween = (up: readonly number[], down: readonly number[], velocity: number): Seconds | undefined =>
  up.length === 0 || down.length === 0 ? undefined : (mean(up) - mean(down)) / (2 * velocity);

/** Where something happened, from presses on the way up and on the way down, in degrees or percent. */
interface MidPlace {
  readonly at: number;
  /** Undefined with too few presses for one: three each way have no 95 % interval. */
  readonly interval: Interval | undefined;
  /** Presses on the way up, and on the way down. */
  readonly up: number;
  readonly down: number;
}
interface Interval {
  readonly low: number;
  readonly high: number;
  /** How often an interval made in this way holds the place: exact, and a little above what was asked. */
  readonly coverage: Probability;
}

/**
 * The median of all midpoints between a place pressed on the way up and one pressed on the way down at the same speed: both
 * lie beyond the true place by the same delay, so that reaction and lag cancel (Hodges and Lehmann 1963). The interval
 * holds whatever the shape of the reaction times. Undefined without a press each way. `up` and `down` are the places of
 * presses each way, in the travel's unit.
 */
export const midpointMedian = (
  up: readonly number[],
  down: readonly number[],
  confidence: Probability = 0.95,
): MidPlace | undefined => {
  if (up.length === 0 || down.length === 0) return undefined;
  const midpoints = up.flatMap((one) => down.map((other) => (one + other) / 2)).sort((a, b) => a - b);
  const depth = depthOf(up.length, down.length, confidence);
  return {
    at: median(midpoints),
    interval: depth && {
      low: midpoints[depth.k - 1] ?? Number.NaN,
      high: midpoints[midpoints.length - depth.k] ?? Number.NaN,
      coverage: depth.coverage,
    },
    up: up.length,
    down: down.length,
  };
};

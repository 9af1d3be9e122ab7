import { studentQuantile } from "../../domain/statistics/distributions.ts";
import { leastSquares } from "../../domain/statistics/sample.ts";
import type { Seconds } from "../../domain/units.ts";
import { delayBetween, type MeanPlace, meanPlace } from "./mean-place.ts";
import { type MidPlace, midpointMedian } from "./midpoint.ts";
import { fitPlay, type PlayFit } from "./play.ts";
import type { PlacedPress } from "./spots.ts";

/** Where it happened, from the presses that belong to one place. */
export interface FoundPlace {
  readonly at: number;
  /** 95 %. From two speeds, or from the midpoints with room for a lag that differs by direction; undefined with too few presses for either. */
  readonly interval: { readonly low: number; readonly high: number } | undefined;
  /** At the speed at which they say most. */
  readonly midpoints: MidPlace;
  readonly mean: MeanPlace;
  /** The speed, a second, without sign. */
  readonly speed: number;
  /** From the thing to the press: the fixture's lag and the person's reaction. */
  readonly delay: Seconds;
  /** With presses at two speeds. */
  readonly play: PlayFit | undefined;
}

/**
 * Undefined without a press each way at the same speed: one way alone cannot tell the place from the reaction. A fixture may
 * answer later one way than the other (weight, belts); at one speed that cannot be told from another place, so the interval
 * leaves room for it, and two speeds tell it.
 */
export const foundPlace = (spots: readonly PlacedPress[]): FoundPlace | undefined => {
  const speeds = speedsOf(spots);
  const found = speeds.flatMap((speed) => atSpeed(spots, speed) ?? []);
  const [best] = [...found].sort((a, b) => width(a.midpoints) - width(b.midpoints));
  if (!best) return undefined;
  const directed = speeds.length > 1 ? fitDirected(spots) : undefined;
  return {
    ...best,
    at: directed?.at ?? best.midpoints.at,
    interval: withGive(directed?.interval ?? withRoom(best), spots),
    play: speeds.length > 1 ? fitPlay(spots) : undefined,
  };
};

/** At most so much later one way than the other. Judgement. */
const LATER_ONE_WAY_S: Seconds = 0.15;

/** Half of what is later one way shifts the midpoint, in proportion to the speed. */
const withRoom = ({ midpoints: { interval }, speed }: AtSpeed): FoundPlace["interval"] => {
  const room = (speed * LATER_ONE_WAY_S) / 2;
  return interval && { low: interval.low - room, high: interval.high + room };
};

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

type AtSpeed = Pick<FoundPlace, "midpoints" | "mean" | "speed" | "delay">;

const atSpeed = (spots: readonly PlacedPress[], speed: number): AtSpeed | undefined => {
  const those = spots.filter(({ velocity }) => sameSpeed(Math.abs(velocity), speed));
  const [ups, downs] = [those.filter(({ way }) => way === "up"), those.filter(({ way }) => way === "down")];
  const [up, down] = [ups.map(({ place }) => place), downs.map(({ place }) => place)];
  const midpoints = midpointMedian(up, down);
  const mean = meanPlace(up, down);
  const delay = delayBetween(up, down, ups[0]?.velocity ?? speed);
  return midpoints && mean && delay !== undefined ? { midpoints, mean, speed, delay } : undefined;
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

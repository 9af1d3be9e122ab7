import { studentQuantile } from "../../domain/statistics/student.ts";
import type { Seconds } from "../../domain/units.ts";
import { delayBetween, type MeanPlace, meanPlace } from "./mean-place.ts";
import { type MidPlace, midpointMedian } from "./midpoint.ts";
import { fitPlay, type PlayFit } from "./play.ts";
import type { PlacedPress } from "./spots.ts";

/** Where it happened, from the presses that belong to one place. */
export interface FoundPlace {
  readonly at: number;
  /** 95 %. From the midpoints where there are presses enough, else from the two speeds; undefined with too few for either. */
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

/** Undefined without a press each way at the same speed: one way alone cannot tell the place from the reaction. */
export const foundPlace = (spots: readonly PlacedPress[]): FoundPlace | undefined => {
  const speeds = speedsOf(spots);
  const found = speeds.flatMap((speed) => atSpeed(spots, speed) ?? []);
  const [best] = [...found].sort((a, b) => width(a.midpoints) - width(b.midpoints));
  if (!best) return undefined;
  const play = speeds.length > 1 ? fitPlay(spots) : undefined;
  const fitted = play && !best.midpoints.interval ? intervalOfFit(play, spots.length) : undefined;
  return {
    ...best,
    at: fitted && play ? play.at.value : best.midpoints.at,
    interval: best.midpoints.interval ?? fitted,
    play,
  };
};

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

const intervalOfFit = ({ at }: PlayFit, presses: number) => {
  if (at.error === undefined) return undefined;
  const reach = at.error * studentQuantile(0.975, presses - 3);
  return { low: at.value - reach, high: at.value + reach };
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

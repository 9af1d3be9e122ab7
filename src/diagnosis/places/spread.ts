import type { Seconds } from "../../domain/units.ts";
import type { Watch } from "./watch.ts";

/** Where a place probably is: its mean, and between which two values it lies with 95 %. */
export interface Spread {
  readonly at: number;
  readonly low: number;
  readonly high: number;
}

/** Finer than anybody's reaction: as far as the slowest movement comes in this time. */
const STEP_S: Seconds = 0.05;
const MOST_PLACES = 1000;

/** Places all along the travel, evenly, the ends themselves not among them; at least 20 and not more than a thousand. */
export const placesAlong = (watches: readonly Watch[]): readonly number[] => {
  const travel = watches[0]?.travel;
  if (!travel) return [];
  const slowest = Math.min(...watches.flatMap(({ passes }) => passes.map(({ velocity }) => Math.abs(velocity))));
  const length = travel.to - travel.from;
  const count = Math.min(MOST_PLACES, Math.max(20, Math.ceil(Math.abs(length) / (slowest * STEP_S))));
  return Array.from({ length: count }, (_, i) => travel.from + (length * (i + 0.5)) / count);
};

/**
 * Where something is, with the interval that holds 95 % of its probability, from how likely each of these places makes what
 * was seen. `places` are evenly spaced, in the travel's unit; `logs` are natural logarithms, one for each place.
 */
export const spreadOf = (places: readonly number[], logs: readonly number[]): Spread => {
  const most = Math.max(...logs);
  const weights = logs.map((log) => Math.exp(log - most));
  const all = weights.reduce((sum, weight) => sum + weight, 0);
  const at = places.reduce((sum, place, i) => sum + (place * (weights[i] ?? 0)) / all, 0);
  const cuts = [0.025, 0.975].map((share) => placeWithin(places, weights, share * all)).sort((a, b) => a - b);
  return { at, low: cuts[0] ?? at, high: cuts[1] ?? at };
};

/** The place at which the weights have added up to this, each spread evenly over its own stretch. */
const placeWithin = (places: readonly number[], weights: readonly number[], wanted: number): number => {
  const step = (places[1] ?? 0) - (places[0] ?? 0);
  let sum = 0;
  for (const [i, weight] of weights.entries()) {
    if (sum + weight >= wanted) return (places[i] ?? 0) + step * ((wanted - sum) / weight - 0.5);
    sum += weight;
  }
  return places.at(-1) ?? 0;
};

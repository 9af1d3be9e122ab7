import type { Probability, Seconds } from "../../domain/units.ts";
import { meanReaction, USUAL_REACTION } from "./delay.ts";
import { likelihoodOf, logMean, strayLog, type Total, totalOf, type Unknowns } from "./likelihood.ts";
import { type Claims, chainSum } from "./pairing.ts";
import type { TravelWay } from "./pass.ts";
import { PATTERNS, type Pattern } from "./pattern.ts";
import { arrivalsOf, crossingsOf, type Watch } from "./watch.ts";

/** How far the presses speak for a pattern. */
export interface PatternBelief {
  readonly pattern: Pattern;
  readonly belief: Probability;
  /** Where, for the patterns that have a place. Calculated with the usual reaction, so wider with presses one way only. */
  readonly place: Spread | undefined;
}

/** What to calculate with for a person and a fixture of which nothing is known. Starter values, judgement. */
export const UNKNOWN: Unknowns = {
  reaction: USUAL_REACTION,
  shifts: [-0.2, -0.15, -0.1, -0.05, 0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5],
  caught: [0.5, 0.7, 0.85, 0.95],
  stray: [0.005, 0.02, 0.06],
};

/**
 * Which pattern the presses of these watches of one function speak for, the strongest first; the beliefs add up to one. The
 * same place, the same reaction and the same watcher are taken to be behind all of them.
 */
export const beliefsOf = (watches: readonly Watch[], unknowns: Unknowns = UNKNOWN): readonly PatternBelief[] => {
  const likelihood = likelihoodOf(watches, unknowns);
  const judged = PATTERNS.map((pattern) => ({ pattern, ...judge(watches, pattern, unknowns, likelihood) }));
  const logs = judged.map(({ pattern, log }) => log - Math.log(pattern.kind === "one-way" ? 2 : 1));
  const all = logMean(logs) + Math.log(logs.length);
  return judged
    .map(({ pattern, place }, i) => ({ pattern, belief: Math.exp((logs[i] ?? 0) - all), place }))
    .sort((a, b) => b.belief - a.belief);
};

type Likelihood = ReturnType<typeof likelihoodOf>;

const judge = (watches: readonly Watch[], pattern: Pattern, unknowns: Unknowns, likelihood: Likelihood): Judged => {
  switch (pattern.kind) {
    case "no-place":
      return { log: logNoPlace(watches), place: undefined };
    case "position":
      return atSomePlace(watches, likelihood);
    case "one-way": {
      const at = atSomePlace(watches, likelihood, pattern.way);
      const along = logAllAlong(watches, pattern.way, unknowns);
      return { log: logMean([at.log, along]), place: at.log > along ? at.place : undefined };
    }
    default:
      return { log: likelihood(watches.map((watch) => arrivalsOf(watch, pattern))), place: undefined };
  }
};

interface Judged {
  readonly log: number;
  readonly place: Spread | undefined;
}

const atSomePlace = (watches: readonly Watch[], likelihood: Likelihood, way?: TravelWay): Judged => {
  const places = placesAlong(watches);
  const logs = places.map((place) => likelihood(watches.map((watch) => crossingsOf(watch, place, way))));
  return { log: logMean(logs), place: spreadOf(places, logs) };
};

/** How long it takes beforehand until a fault without a place shows itself once, about; it may be much more or less. Judgement. */
const BETWEEN_S: Seconds = 10;

/**
 * How likely these presses in this time are, as a natural logarithm, at a rate of which
 * little is known: Gamma(1, b) beforehand.
 */
export const logOfRate = ({ presses, time }: Total, b: Seconds = BETWEEN_S): number =>
  Math.log(b) + logFactorial(presses) - (1 + presses) * Math.log(b + time);

/** How likely presses tied to no place are, as a natural logarithm. */
export const logNoPlace = (watches: readonly Watch[]): number => logOfRate(totalOf(watches));

/**
 * How likely these presses are, as a natural logarithm, if something shows anywhere on every movement up, or down: missed
 * as often as others are, and whatever else was pressed was for nothing.
 */
export const logAllAlong = (
  watches: readonly Watch[],
  way: TravelWay,
  { reaction, stray, caught }: Unknowns,
): number => {
  const passes = watches.flatMap((watch) => duringWay(watch, way, meanReaction(reaction) + watch.lag));
  return logMean(
    stray.flatMap((rate) =>
      caught.map((surely) =>
        passes.reduce(
          (sum, claims) => sum + Math.log(chainSum([claims], surely, rate)),
          strayLog(totalOf(watches), rate),
        ),
      ),
    ),
  );
};

/** The presses on each movement that way, any moment of it as likely as another. */
const duringWay = ({ passes, presses }: Watch, way: TravelWay, delay: Seconds): readonly Claims[] =>
  passes
    .filter((pass) => pass.way === way)
    .map(({ begin, end }) =>
      presses.flatMap(
        (press, i): Claims => (press - delay >= begin && press - delay <= end ? [[i, 1 / (end - begin)]] : []),
      ),
    );

const logFactorial = (n: number): number => {
  let sum = 0;
  for (let i = 2; i <= n; i++) sum += Math.log(i);
  return sum;
};

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
const placesAlong = (watches: readonly Watch[]): readonly number[] => {
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
const spreadOf = (places: readonly number[], logs: readonly number[]): Spread => {
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

import type { Probability, Seconds } from "../../domain/units.ts";
import { likelihoodOf, logMean, strayLog, type Total, totalOf, type Unknowns } from "./likelihood.ts";
import { type Claims, chainSum } from "./pairing.ts";
import type { TravelWay } from "./pass.ts";
import { PATTERNS, type Pattern } from "./pattern.ts";
import { meanReaction, USUAL_REACTION } from "./reaction.ts";
import { placesAlong, type Spread, spreadOf } from "./spread.ts";
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

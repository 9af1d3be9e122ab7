import type { Probability } from "../../domain/units.ts";
import { arrivalsOf, crossingsOf } from "./events.ts";
import { logAllAlong, logNoPlace } from "./everywhere.ts";
import { likelihoodOf, logMean, type Unknowns } from "./likelihood.ts";
import type { TravelWay } from "./pass.ts";
import { PATTERNS, type Pattern } from "./pattern.ts";
import { USUAL_REACTION } from "./reaction.ts";
import { placesAlong, type Spread, spreadOf } from "./spread.ts";
import type { Watch } from "./watch.ts";

/** How far the presses speak for a pattern. */
export interface PatternBelief {
  readonly pattern: Pattern;
  readonly belief: Probability;
  /** Where, for the patterns that have a place. Reckoned with the usual reaction, so wider with presses one way only. */
  readonly place: Spread | undefined;
}

/** Of a person and a fixture of which nothing is known. Starter values, judgement. */
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

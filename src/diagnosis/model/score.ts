import { mean } from "../../domain/statistics/sample.ts";
import type { Probability } from "../../domain/units.ts";

/** A forecast and what came of it. Scores are taken before a case is learned from. */
export interface Forecast {
  readonly probability: Probability;
  readonly came: boolean;
}

/** Mean squared error of the forecasts; 0 is perfect. */
export const brier = (forecasts: readonly Forecast[]): number =>
  mean(forecasts.map(({ probability, came }) => (probability - Number(came)) ** 2));

/** Mean surprise in natural units; 0 is perfect. */
export const logScore = (forecasts: readonly Forecast[]): number =>
  mean(forecasts.map(({ probability, came }) => -Math.log(came ? probability : 1 - probability)));

/** How many clean passes in a row leave at most a 5 % risk that a fault seen in this share of passes is still there. */
export const cleanPassesNeeded = (seenInShare: Probability): number =>
  Math.ceil(Math.log(0.05) / Math.log(1 - seenInShare));

/** Below this many cases a share is told as "3 of 5", never in per cent. */
export const ENOUGH_FOR_PERCENT = 30;

import type { Probability } from "../units.ts";
import { betaQuantile } from "./beta-quantile.ts";

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

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

export interface Interval {
  readonly low: Probability;
  readonly high: Probability;
}

/** The two-sided 95 % point of the normal distribution. */
const Z = 1.959963984540054;

/** 95 % interval of a share, after Wilson (1927). */
export function wilson(yes: number, of: number): Interval {
  const share = yes / of;
  const middle = (share + (Z * Z) / (2 * of)) / (1 + (Z * Z) / of);
  const half = (Z / (1 + (Z * Z) / of)) * Math.sqrt((share * (1 - share)) / of + (Z * Z) / (4 * of * of));
  return { low: Math.max(0, middle - half), high: Math.min(1, middle + half) };
}

/** 95 % interval of a share from the Jeffreys prior, with the customary 0 and 1 at the ends. */
export const jeffreys = (yes: number, of: number): Interval => ({
  low: yes === 0 ? 0 : betaQuantile(0.025, yes + 0.5, of - yes + 0.5),
  high: yes === of ? 1 : betaQuantile(0.975, yes + 0.5, of - yes + 0.5),
});

/** How many clean passes in a row leave at most a 5 % risk that a fault seen in this share of passes is still there. */
export const cleanPassesNeeded = (seenInShare: Probability): number =>
  Math.ceil(Math.log(0.05) / Math.log(1 - seenInShare));

/** Below this many cases a share is told as "3 of 5", never in per cent. */
export const ENOUGH_FOR_PERCENT = 30;

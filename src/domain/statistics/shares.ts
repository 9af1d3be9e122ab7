import type { Probability } from "../units.ts";
import { betaQuantile } from "./distributions.ts";

/** A number of hits out of a number of tries, with the 95 % interval of their share. */
export interface Share {
  readonly hits: number;
  readonly of: number;
  readonly low: Probability;
  readonly high: Probability;
}

/** The two-sided 95 % point of the normal distribution. */
const Z = 1.959963984540054;

/**
 * A share with its score interval (Wilson 1927); the whole range from 0 to 1 when there is nothing to count. `hits` is a
 * count from 0 to `of`, and `of` is how many were tried.
 */
export const shareOf = (hits: number, of: number): Share => {
  if (of === 0) return { hits, of, low: 0, high: 1 };
  const share = hits / of;
  const middle = (share + (Z * Z) / (2 * of)) / (1 + (Z * Z) / of);
  const half = (Z * Math.sqrt((share * (1 - share)) / of + (Z * Z) / (4 * of * of))) / (1 + (Z * Z) / of);
  return { hits, of, low: Math.max(0, middle - half), high: Math.min(1, middle + half) };
};

/**
 * A share with the interval from the Jeffreys prior, with the customary 0 and 1 at the ends (Brown, Cai and DasGupta 2001).
 * `hits` is a count from 0 to `of`, and `of` is how many were tried.
 */
export const jeffreys = (hits: number, of: number): Share => ({
  hits,
  of,
  low: hits === 0 ? 0 : betaQuantile(0.025, hits + 0.5, of - hits + 0.5),
  high: hits === of ? 1 : betaQuantile(0.975, hits + 0.5, of - hits + 0.5),
});

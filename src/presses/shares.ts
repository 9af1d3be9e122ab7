import type { Probability } from "../units.ts";

/** So many of so many, with the 95 % interval. */
export interface Share {
  readonly hits: number;
  readonly of: number;
  readonly low: Probability;
  readonly high: Probability;
}

const Z = 1.959963984540054;

/** The score interval of Wilson 1927; the whole range when there is nothing to count. */
export const shareOf = (hits: number, of: number): Share => {
  if (of === 0) return { hits, of, low: 0, high: 1 };
  const share = hits / of;
  const middle = (share + (Z * Z) / (2 * of)) / (1 + (Z * Z) / of);
  const half = (Z * Math.sqrt((share * (1 - share)) / of + (Z * Z) / (4 * of * of))) / (1 + (Z * Z) / of);
  return { hits, of, low: Math.max(0, middle - half), high: Math.min(1, middle + half) };
};

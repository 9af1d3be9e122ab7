import type { Probability } from "../units.ts";

const Z = 1.959963984540054;

/** The 95 % Wilson score interval of a share (Wilson 1927); the whole range when there is nothing to count. */
export const wilson = (hits: number, of: number): readonly [Probability, Probability] => {
  if (of === 0) return [0, 1];
  const p = hits / of;
  const middle = (p + (Z * Z) / (2 * of)) / (1 + (Z * Z) / of);
  const half = (Z * Math.sqrt((p * (1 - p)) / of + (Z * Z) / (4 * of * of))) / (1 + (Z * Z) / of);
  return [Math.max(0, middle - half), Math.min(1, middle + half)];
};

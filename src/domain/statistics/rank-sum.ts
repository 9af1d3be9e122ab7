import type { Probability } from "../units.ts";

/** Ranks that the two ends of an interval stand on, and how often such an interval holds the place. */
export interface Depth {
  /** The interval runs from the k-th smallest to the k-th largest midpoint. */
  readonly k: number;
  readonly coverage: Probability;
}

/**
 * How far in from both ends of the sorted midpoints an interval may begin and still hold the place with this confidence.
 * Exact, by the null distribution of the rank sum (Mann and Whitney 1947). `up` and `down` are the number of presses each
 * way. Undefined when even the outermost two midpoints do not hold it, as with three presses each way.
 */
export const depthOf = (up: number, down: number, confidence: Probability = 0.95): Depth | undefined => {
  const ways = waysBelow(up, down);
  const all = ways.reduce((sum, count) => sum + count, 0);
  let tail = 0;
  let k = 0;
  for (; k < ways.length; k++) {
    const next = tail + (ways[k] ?? 0) / all;
    if (1 - 2 * next < confidence - 1e-12) break;
    tail = next;
  }
  return k === 0 ? undefined : { k, coverage: 1 - 2 * tail };
};

/** In how many orders of n and m values the count of inversions is 0, 1, 2, ... n m: the Gaussian binomial coefficients. */
const waysBelow = (n: number, m: number): readonly number[] => {
  const ways = new Array<number>(n * m + 1).fill(0);
  ways[0] = 1;
  for (let i = 1; i <= n; i++) {
    for (let u = n * m; u >= m + i; u--) ways[u] = (ways[u] ?? 0) - (ways[u - m - i] ?? 0);
    for (let u = i; u <= n * m; u++) ways[u] = (ways[u] ?? 0) + (ways[u - i] ?? 0);
  }
  return ways;
};

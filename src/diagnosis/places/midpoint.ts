import { depthOf } from "../../domain/statistics/rank-sum.ts";
import { median } from "../../domain/statistics/sample.ts";
import type { Probability } from "../../domain/units.ts";

/** Where something happened, from presses on the way up and on the way down, in degrees or percent. */
export interface MidPlace {
  readonly at: number;
  /** Undefined with too few presses for one: three each way have no 95 % interval. */
  readonly interval: Interval | undefined;
  /** Presses on the way up, and on the way down. */
  readonly up: number;
  readonly down: number;
}
interface Interval {
  readonly low: number;
  readonly high: number;
  /** How often an interval made in this way holds the place: exact, and a little above what was asked. */
  readonly coverage: Probability;
}

/**
 * The median of all midpoints between a place pressed on the way up and one pressed on the way down at the same speed: both
 * lie beyond the true place by the same delay, so that reaction and lag cancel (Hodges and Lehmann 1963). The interval holds
 * whatever the shape of the reaction times. Undefined without a press each way.
 */
export const midpointMedian = (
  up: readonly number[],
  down: readonly number[],
  confidence: Probability = 0.95,
): MidPlace | undefined => {
  if (up.length === 0 || down.length === 0) return undefined;
  const midpoints = up.flatMap((one) => down.map((other) => (one + other) / 2)).sort((a, b) => a - b);
  const depth = depthOf(up.length, down.length, confidence);
  return {
    at: median(midpoints),
    interval: depth && {
      low: midpoints[depth.k - 1] ?? Number.NaN,
      high: midpoints[midpoints.length - depth.k] ?? Number.NaN,
      coverage: depth.coverage,
    },
    up: up.length,
    down: down.length,
  };
};

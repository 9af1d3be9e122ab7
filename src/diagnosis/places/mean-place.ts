import { studentQuantile } from "../../domain/statistics/distributions.ts";
import { mean, variance } from "../../domain/statistics/sample.ts";
import type { Probability, Seconds } from "../../domain/units.ts";

/** Where something happened by plain averages: sharper than the midpoint median when every press is good, misled by a single wrong one. */
export interface MeanPlace {
  readonly at: number;
  /** Standard error; undefined with fewer than two presses a way. */
  readonly error: number | undefined;
  /** 95 % by Welch 1947, for two ways that scatter differently. */
  readonly interval: { readonly low: number; readonly high: number } | undefined;
}

/** The mean of the two ways' means: lag and reaction cancel. Undefined without a press each way. */
export const meanPlace = (
  up: readonly number[],
  down: readonly number[],
  confidence: Probability = 0.95,
): MeanPlace | undefined => {
  if (up.length === 0 || down.length === 0) return undefined;
  const at = (mean(up) + mean(down)) / 2;
  if (up.length < 2 || down.length < 2) return { at, error: undefined, interval: undefined };
  const [a, b] = [variance(up) / up.length, variance(down) / down.length];
  const error = Math.sqrt(a + b) / 2;
  if (error === 0) return { at, error, interval: { low: at, high: at } };
  const freedom = (a + b) ** 2 / (a ** 2 / (up.length - 1) + b ** 2 / (down.length - 1));
  const reach = error * studentQuantile((1 + confidence) / 2, freedom);
  return { at, error, interval: { low: at - reach, high: at + reach } };
};

/**
 * From the thing itself to the press: the fixture's lag and the person's reaction together. `velocity` is signed, of the way
 * up. Undefined without a press each way.
 */
export const delayBetween = (up: readonly number[], down: readonly number[], velocity: number): Seconds | undefined =>
  up.length === 0 || down.length === 0 ? undefined : (mean(up) - mean(down)) / (2 * velocity);

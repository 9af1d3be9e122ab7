import { normalQuantile } from "../../domain/statistics/distributions.ts";
import { type Share, shareOf } from "../../domain/statistics/sample.ts";

/** What became of chances to notice something, and of chances to imagine it. */
export interface Tally {
  readonly hits: number;
  readonly misses: number;
  readonly falseAlarms: number;
  readonly rightlyQuiet: number;
}

/** How well somebody tells something from nothing. */
export interface Detection {
  /** The share of what was there that was caught. */
  readonly caught: Share;
  /** The share of what was not there that was reported all the same. */
  readonly imagined: Share;
  /** d': the distance between something and nothing in spreads of the noise; 0 is guessing. */
  readonly sensitivity: number;
  /** c: above 0 somebody would rather stay silent, below 0 rather press. */
  readonly criterion: number;
}

/**
 * Standard signal detection with equal spreads (Green and Swets 1966). Half a case is added to every cell, whether or not one
 * is empty: the log-linear correction (Hautus 1995). Undefined without a case of each kind: nothing can be said then.
 */
export const detectionOf = ({ hits, misses, falseAlarms, rightlyQuiet }: Tally): Detection | undefined => {
  const [there, absent] = [hits + misses, falseAlarms + rightlyQuiet];
  if (there === 0 || absent === 0) return undefined;
  const hit = normalQuantile((hits + 0.5) / (there + 1));
  const alarm = normalQuantile((falseAlarms + 0.5) / (absent + 1));
  return {
    caught: shareOf(hits, there),
    imagined: shareOf(falseAlarms, absent),
    sensitivity: hit - alarm,
    criterion: -(hit + alarm) / 2,
  };
};

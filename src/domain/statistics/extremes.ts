import type { Probability } from "../units.ts";
import { studentQuantile } from "./distributions.ts";
import { mean, median, variance } from "./sample.ts";

/** How far the most distant of some values lies from their mean, in their own standard deviations. */
interface Extreme {
  /** Its place among the values. */
  readonly index: number;
  readonly distance: number;
}

/**
 * The value that lies furthest from the mean of all that are looked at; undefined where they are all the same or fewer than
 * three. `values` are readings in any one unit; `among` are the places in `values`, from 0, of those looked at.
 */
export const mostDistant = (
  values: readonly number[],
  among: readonly number[] = [...values.keys()],
): Extreme | undefined => {
  const looked = among.map((index) => values[index] ?? Number.NaN);
  const deviation = Math.sqrt(variance(looked));
  if (looked.length < 3 || !(deviation > 0)) return undefined;
  const middle = mean(looked);
  return among
    .map((index) => ({ index, distance: Math.abs((values[index] ?? Number.NaN) - middle) / deviation }))
    .reduce((most, one) => (one.distance > most.distance ? one : most));
};

/**
 * The distance, in standard deviations, that the most distant of `count` normally distributed values
 * passes with probability `alpha`, on either side (Grubbs 1950; NIST/SEMATECH e-Handbook of Statistical
 * Methods 1.3.5.17.1). `count` is at least 3.
 */
export const grubbsCritical = (count: number, alpha: Probability): number => {
  const t = studentQuantile(1 - alpha / (2 * count), count - 2);
  return ((count - 1) / Math.sqrt(count)) * Math.sqrt(t ** 2 / (count - 2 + t ** 2));
};

/**
 * The distance, in standard deviations, that the most distant value has to pass in each round of the
 * search for several. `count` is the number of values at first; one is taken away with each round, `most`
 * rounds at most, and at least 3 values stay.
 */
export const extremeCriticals = (count: number, most: number, alpha: Probability): readonly number[] =>
  Array.from({ length: most }, (_, taken) => grubbsCritical(count - taken, alpha));

/** One round of the search for several: the most distant of those left, and what it has to pass. */
interface Round extends Extreme {
  readonly critical: number;
}

/**
 * Generalised extreme studentised deviate test (Rosner 1983; NIST/SEMATECH 1.3.5.17.3): takes the most distant value away,
 * again and again, so that two do not hide each other. All values up to the last round that passes are outliers. `values`
 * are readings in any one unit; `criticals` are the distances in standard deviations to be passed, one for each round.
 */
export const extremeRounds = (values: readonly number[], criticals: readonly number[]): readonly Round[] => {
  const rounds: Round[] = [];
  let left = [...values.keys()];
  for (const critical of criticals) {
    const extreme = mostDistant(values, left);
    if (!extreme) break;
    rounds.push({ ...extreme, critical });
    left = left.filter((index) => index !== extreme.index);
  }
  return rounds;
};

/** The index of each outlier among the values, from 0, most distant first. */
export const outliers = (rounds: readonly Round[]): readonly number[] =>
  rounds.slice(0, rounds.findLastIndex(({ distance, critical }) => distance > critical) + 1).map(({ index }) => index);

/** Makes the median deviation of normal values as large as their standard deviation. */
const NORMAL = 0.6745;

/**
 * How far each value lies from the median, in median deviations ("modified z", Iglewicz and Hoaglin 1993). Undefined
 * where more than half of the values are the same: their median deviation is 0 then, and says nothing. `values` are
 * readings in any one unit, at least one.
 */
export const medianDistances = (values: readonly number[]): readonly number[] | undefined => {
  const middle = median(values);
  const deviation = median(values.map((value) => Math.abs(value - middle)));
  return deviation > 0 ? values.map((value) => (NORMAL * Math.abs(value - middle)) / deviation) : undefined;
};

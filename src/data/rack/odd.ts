import { studentQuantile } from "../../domain/statistics/distributions.ts";
import { mean, median, variance } from "../../domain/statistics/sample.ts";
import type { Probability } from "../../domain/units.ts";
import { ODD_LEVELS, SHARERS } from "./odd-levels.ts";

/** What one kind of reading of fixtures of one kind says: which differ, and between which limits the others lie. */
export interface OddOnes {
  /** Places among the readings. */
  readonly odd: readonly number[];
  /** The mean of those that are not odd. */
  readonly middle: number;
  /** One more sound fixture would lie between these. */
  readonly low: number;
  readonly high: number;
}

/** With fewer nobody can say which of them is the odd one. */
export const FEWEST = 4;
/** In racks up to this size medians are looked at too: two odd ones hide each other from means. */
export const WITH_MEDIANS = 7;
/** At most this share of a large rack is looked at as odd. */
const MOST_ODD = 1 / 4;
/** The reference that the simulated factors belong to. */
const REFERENCE = 0.05;

/** The critical distance of each round, in standard deviations, for `count` readings, before a factor is put on it. */
export const referenceCriticals = (count: number): readonly number[] =>
  remembered(ROUNDS, count, () =>
    extremeCriticals(count, count <= WITH_MEDIANS ? 1 : Math.floor(count * MOST_ODD), REFERENCE),
  );

/** Each takes some milliseconds, and a rack asks for the same again and again. */
const ROUNDS = new Map<number, readonly number[]>();
const FIRST = new Map<number, number>();

const remembered = <T>(known: Map<number, T>, count: number, work: () => T): T => {
  const value = known.get(count) ?? work();
  known.set(count, value);
  return value;
};

/** What the readings of a number of fixtures have to pass. */
interface OddRule {
  readonly criticals: readonly number[];
  /** For median distances; undefined in a large rack, which needs none. */
  readonly cut: number | undefined;
  readonly factor: number;
}

/**
 * @param count fixtures that were read, four or more
 * @param sharers readings of the rack that share the risk of naming a sound fixture
 */
const oddRule = (count: number, sharers: number): OddRule => {
  const line = ODD_LEVELS[Math.min(count - FEWEST, ODD_LEVELS.length - 1)];
  const at = SHARERS.findIndex((many) => many >= sharers);
  const [factor, cut] = line?.at(at) ?? [Number.POSITIVE_INFINITY, 0];
  return {
    criticals: referenceCriticals(count).map((critical) => factor * critical),
    cut: cut > 0 ? cut : undefined,
    factor,
  };
};

/** One kind of reading of fixtures of one kind. */
export interface RackReading {
  readonly values: readonly number[];
  /** The smallest difference from the middle that is worth a look. */
  readonly matters: number;
}

/**
 * All readings of a rack together. The risk of 5 % that a rack with nothing wrong has an odd one is the whole rack's: the
 * reading that is least likely by chance is judged first, as if all shared the risk, then the next as if all but one did, until
 * one says nothing (Holm 1979, "A simple sequentially rejective multiple test procedure"). Limits come from simulation.
 *
 * @returns for each reading what it says; undefined with fewer than four values
 */
export const oddInRack = (readings: readonly RackReading[]): readonly (OddOnes | undefined)[] => {
  const judged = new Map<number, OddOnes>();
  const waiting = new Set(readings.flatMap(({ values }, n) => (values.length >= FEWEST ? [n] : [])));
  for (let found = true; found && waiting.size > 0; ) {
    const sharers = waiting.size;
    const tried = [...waiting].map((n) => ({ n, says: oddOnes(readings[n], sharers) }));
    const first = tried.find(({ says }) => says.odd.length > 0);
    found = first !== undefined;
    for (const { n, says } of first ? [first] : tried) judged.set(n, says);
    if (first) waiting.delete(first.n);
  }
  return readings.map((_, n) => judged.get(n));
};

const oddOnes = ({ values, matters }: RackReading = { values: [], matters: 0 }, sharers: number): OddOnes => {
  const rule = oddRule(values.length, sharers);
  const distant = distantOnes(rule, values);
  const { middle } = without(values, distant);
  const odd = distant.filter((index) => Math.abs((values[index] ?? middle) - middle) >= matters);
  const others = without(values, odd);
  const reach =
    others.deviation > 0
      ? Math.max(matters, reachOf(values.length - odd.length, rule.factor) * others.deviation)
      : matters;
  return { odd, middle: others.middle, low: others.middle - reach, high: others.middle + reach };
};

/** Grubbs' test turned round: how far from the others, in their standard deviations, one more has to be to be odd. */
const reachOf = (others: number, factor: number): number => {
  const count = others + 1;
  const critical = factor * remembered(FIRST, count, () => grubbsCritical(count, REFERENCE));
  const left = (count - 1) ** 2 - count * critical ** 2;
  if (left <= 0) return Number.POSITIVE_INFINITY;
  const t = critical * Math.sqrt((count * (count - 2)) / left);
  return t * Math.sqrt(1 + 1 / others);
};

/** With few, two odd ones hide each other from means; medians sometimes still see them. */
const distantOnes = ({ criticals, cut }: OddRule, values: readonly number[]): readonly number[] => {
  const byMean = outliers(extremeRounds(values, criticals));
  if (cut === undefined) return byMean;
  const byMedian = (medianDistances(values) ?? []).flatMap((distance, index) => (distance > cut ? [index] : []));
  return [...new Set([...byMean, ...byMedian])];
};

const without = (values: readonly number[], odd: readonly number[]) => {
  const others = values.filter((_, index) => !odd.includes(index));
  return { middle: mean(others), deviation: Math.sqrt(variance(others)) };
};

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

import {
  extremeCriticals,
  extremeRounds,
  grubbsCritical,
  medianDistances,
  outliers,
} from "../../domain/statistics/extremes.ts";
import { mean, variance } from "../../domain/statistics/sample.ts";
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

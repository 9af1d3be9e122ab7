import { extremeCriticals, extremeRounds, outliers } from "../../domain/statistics/extremes.ts";
import { medianDistances } from "../../domain/statistics/median-distance.ts";
import { mean, variance } from "../../domain/statistics/sample.ts";
import { studentQuantile } from "../../domain/statistics/student.ts";

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
/** From here on several may be taken away one after the other, and enough are left to compare with. */
const MANY = 8;
/** Of a large rack at most this share is looked at as odd. */
const MOST_ODD = 1 / 4;

/** "all": readings of one number. "half": one of two numbers that are judged together, such as x and y of a colour. */
export type Risk = "all" | "half";

/**
 * The risk that a rack with nothing wrong still has an odd one, as asked of each test. Generalised ESD is asked for .03, since
 * with few values it finds more than it should: .03 comes out near .05. The cuts are passed by the greatest median distance
 * of 5 and of 2.5 % of racks with nothing wrong (simulated); the usual cut of 3.5 would be passed by 15 to 20 %.
 */
const RISKS = {
  all: { many: 0.03, few: 0.05, cuts: { 4: 6.89, 5: 7.949, 6: 5.532, 7: 5.846 } },
  half: { many: 0.015, few: 0.025, cuts: { 4: 9.968, 5: 11.486, 6: 7.216, 7: 7.629 } },
} as const;

/** What readings of so many fixtures have to pass; worked out once for a rack. */
export interface OddRule {
  readonly criticals: readonly number[];
  /** For median distances; undefined in a large rack, which needs none. */
  readonly cut: number | undefined;
  /** By how many of the others' deviations one more sound fixture may differ from them, by how many are odd. */
  readonly reaches: readonly number[];
}

/** Undefined with fewer than four fixtures. */
export const oddRule = (count: number, risk: Risk = "all"): OddRule | undefined => {
  if (count < FEWEST) return undefined;
  const { many, few, cuts } = RISKS[risk];
  const alpha = count < MANY ? few : many;
  const most = count < MANY ? 1 : Math.floor(count * MOST_ODD);
  return {
    criticals: extremeCriticals(count, most, alpha),
    cut: count < MANY ? cuts[count as keyof typeof cuts] : undefined,
    reaches: Array.from({ length: count - 2 }, (_, odd) => reachOf(count - odd, alpha)),
  };
};

/** Grubbs' test turned round: how far from so many others one more has to be to be odd. */
const reachOf = (others: number, alpha: number): number =>
  studentQuantile(1 - alpha / (2 * (others + 1)), others - 1) * Math.sqrt(1 + 1 / others);

/** `matters` is the smallest difference from the middle that is worth a look. As many values as the rule was made for. */
export const oddOnes = (rule: OddRule, values: readonly number[], matters: number): OddOnes => {
  const distant = distantOnes(rule, values);
  const { middle } = without(values, distant);
  const odd = distant.filter((index) => Math.abs((values[index] ?? middle) - middle) >= matters);
  const others = without(values, odd);
  const reach = Math.max(matters, (rule.reaches[odd.length] ?? 0) * others.deviation);
  return { odd, middle: others.middle, low: others.middle - reach, high: others.middle + reach };
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

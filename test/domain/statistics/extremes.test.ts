import fc from "fast-check";
import { expect, test } from "vitest";
import {
  extremeCriticals,
  extremeRounds,
  grubbsCritical,
  medianDistances,
  mostDistant,
  outliers,
} from "../../../src/domain/statistics/extremes.ts";

/** Two-sided, 5 %; values agreed by independent programs. */
test.each([
  { count: 4, critical: 1.4813 },
  { count: 5, critical: 1.715 },
  { count: 6, critical: 1.8871 },
  { count: 8, critical: 2.1266 },
  { count: 12, critical: 2.4116 },
  { count: 24, critical: 2.8016 },
])("of $count values the most distant passes $critical deviations in 5 % of cases", ({ count, critical }) => {
  expect(grubbsCritical(count, 0.05)).toBeCloseTo(critical, 4);
});

/** NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.1: mass spectrometer readings of a uranium isotope. */
test("the handbook's worked example of Grubbs' test: 245.57 lies 2.468765 deviations out, 2.03165 would do", () => {
  const values = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57];
  expect(mostDistant(values)).toEqual({ index: 7, distance: expect.closeTo(2.468765, 6) });
  // The handbook tests the upper side only: 5 % there are 10 % on both.
  expect(grubbsCritical(8, 0.1)).toBeCloseTo(2.03165, 5);
});

/**
 * NIST/SEMATECH 1.3.5.17.3, data of Rosner 1983. Values and results as quoted in two independent public repositories; the
 * handbook cuts its figures after three decimals, one of the repositories rounds them.
 */
test("the handbook's worked example of the generalised test: of 54 values three are outliers", () => {
  const values = [
    -0.25, 0.68, 0.94, 1.15, 1.2, 1.26, 1.26, 1.34, 1.38, 1.43, 1.49, 1.49, 1.55, 1.56, 1.58, 1.65, 1.69, 1.7, 1.76,
    1.77, 1.81, 1.91, 1.94, 1.96, 1.99, 2.06, 2.09, 2.1, 2.14, 2.15, 2.23, 2.24, 2.26, 2.35, 2.37, 2.4, 2.47, 2.54,
    2.62, 2.64, 2.9, 2.92, 2.92, 2.93, 3.21, 3.26, 3.3, 3.59, 3.68, 4.3, 4.64, 5.34, 5.42, 6.01,
  ];
  const cut = (value: number) => Math.floor(value * 1000) / 1000;
  const rounds = extremeRounds(values, extremeCriticals(54, 10, 0.05));
  expect(rounds.map(({ distance, critical }) => [cut(distance), cut(critical)])).toEqual([
    [3.118, 3.158],
    [2.942, 3.151],
    [3.179, 3.143],
    [2.81, 3.136],
    [2.815, 3.128],
    [2.848, 3.12],
    [2.279, 3.111],
    [2.31, 3.103],
    [2.101, 3.094],
    [2.067, 3.085],
  ]);
  expect(outliers(rounds).map((index) => values[index])).toEqual([6.01, 5.42, 5.34]);
});

test("all that were taken away up to the last round that passes are outliers", () => {
  const values = [10, 11, 9, 10, 10.5, 9.5, 10.2, 9.8, 10.1, 9.9, 30, 90];
  expect(outliers(extremeRounds(values, extremeCriticals(12, 3, 0.05)))).toEqual([11, 10]);
});

test("values that are all the same, or fewer than three, have no most distant one", () => {
  expect(mostDistant([5, 5, 5, 5])).toBeUndefined();
  expect(mostDistant([1, 9])).toBeUndefined();
  expect(extremeRounds([5, 5, 5, 5], extremeCriticals(4, 2, 0.05))).toEqual([]);
});

test("neither the unit nor the zero of a scale changes which values are outliers", () => {
  const values = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 12, maxLength: 12 });
  const criticals = extremeCriticals(12, 3, 0.05);
  fc.assert(
    fc.property(values, fc.constantFrom(2, 8, -4), fc.integer({ min: -64, max: 64 }), (list, factor, shift) => {
      const found = (some: readonly number[]) => outliers(extremeRounds(some, criticals)).toSorted((a, b) => a - b);
      expect(found(list.map((value) => value * factor + shift))).toEqual(found(list));
    }),
  );
});

/** By hand: median 3, deviations 2 1 0 1 97, their median 1. */
test("distances from the median are in median deviations", () => {
  expect(medianDistances([1, 2, 3, 4, 100])).toEqual([1.349, 0.6745, 0, 0.6745, 0.6745 * 97]);
});

test("when more than half of the values are the same there is nothing to measure with, and nothing is divided by it", () => {
  expect(medianDistances([5, 5, 5, 9])).toBeUndefined();
});

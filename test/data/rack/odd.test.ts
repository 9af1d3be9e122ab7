import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  extremeCriticals,
  extremeRounds,
  grubbsCritical,
  medianDistances,
  mostDistant,
  type OddOnes,
  oddInRack,
  outliers,
} from "../../../src/data/rack/odd.ts";
import { ODD_LEVELS, SHARERS } from "../../../src/data/rack/odd-levels.ts";
import { chanceFrom, normal } from "../../../src/sim/chance.ts";

const RACKS = 3_000;
/** Four standard errors of a share counted over so many racks. */
const error = (share: number): number => 4 * Math.sqrt((share * (1 - share)) / RACKS);

/** Sound fixtures scatter normally with a deviation of 1; some are off by so much. */
const drawn = (chance: () => number, size: number, off: readonly number[]) => ({
  values: Array.from({ length: size }, (_, index) => normal(chance) + (off[index] ?? 0)),
  matters: 0,
});

/** The share of simulated racks of so many readings of which something is true of the first. */
const shareOf = (
  size: number,
  readings: number,
  off: readonly number[],
  holds: (says: readonly OddOnes[]) => boolean,
) => {
  const chance = chanceFrom(size * 100 + readings);
  let count = 0;
  for (let rack = 0; rack < RACKS; rack++) {
    const all = Array.from({ length: readings }, (_, n) => drawn(chance, size, n === 0 ? off : []));
    if (holds(oddInRack(all).flatMap((one) => one ?? []))) count += 1;
  }
  return count / RACKS;
};
const named = (says: readonly OddOnes[]): boolean => says.some(({ odd }) => odd.length > 0);
const oddIn = (...values: readonly number[]): readonly number[] => oddInRack([{ values, matters: 0 }])[0]?.odd ?? [];

/** Levels are simulated; this simulates again with other draws. `npm run bench -- readings` does so for every size from 4 to 48. */
describe("of racks with nothing wrong no more than 5 % have a name, however many readings there are", () => {
  test.each([
    { size: 4, readings: 1 },
    { size: 5, readings: 1 },
    { size: 7, readings: 1 },
    { size: 12, readings: 1 },
    { size: 4, readings: 6 },
    { size: 5, readings: 6 },
    { size: 6, readings: 6 },
    { size: 7, readings: 6 },
    { size: 8, readings: 6 },
    { size: 12, readings: 6 },
    { size: 5, readings: 18 },
  ])("$size fixtures, $readings readings of each", ({ size, readings }) => {
    expect(shareOf(size, readings, [], named)).toBeLessThan(0.05 + error(0.05));
  });
});

test("one reading alone keeps nearly all of the risk: the limits are not wider than they need to be", () => {
  expect(shareOf(8, 1, [], named)).toBeGreaterThan(0.05 - error(0.05));
});

test("a fixture that is far off in one reading does not hide one that is off in another (Holm 1979: the risk left goes to the rest)", () => {
  const chance = chanceFrom(3);
  const far = drawn(chance, 12, [40]);
  const near = { values: [3.3, ...Array.from({ length: 11 }, (_, n) => (n - 5) / 5)], matters: 0 };
  const quiet = Array.from({ length: 12 }, (_, n) => (n % 3) - 1);
  const together = oddInRack([far, near, { values: quiet, matters: 0 }]);
  expect(together.map((one) => one?.odd)).toEqual([[0], [0], []]);
});

test("limits grow with the number of readings that share the risk, and never past what a value can reach", () => {
  for (const line of ODD_LEVELS) {
    expect(line).toHaveLength(SHARERS.length);
    for (const [n, [factor, cut]] of line.entries()) {
      expect(factor).toBeGreaterThanOrEqual(line[n - 1]?.[0] ?? 0);
      expect(cut).toBeGreaterThanOrEqual(line[n - 1]?.[1] ?? 0);
    }
  }
});

/** With the whole risk of 5 % on it the factor on Grubbs' critical value of .05 is about 1, where only one is looked for. */
test("for one reading the simulated limits are near the printed ones (NIST/SEMATECH 1.3.5.17.1)", () => {
  expect(ODD_LEVELS.map(([first]) => Math.abs((first?.[0] ?? 0) - 1) < 0.06)).toEqual(ODD_LEVELS.map(() => true));
});

test("the usual cut of 3.5 median deviations would name a sound fixture in 9 to 21 of 100 racks", () => {
  const chance = chanceFrom(1);
  for (const [size, usual] of [
    [4, 0.17],
    [5, 0.207],
    [8, 0.14],
    [24, 0.094],
  ] as const) {
    const past = Array.from({ length: RACKS }, () => drawn(chance, size, []).values).filter((values) =>
      (medianDistances(values) ?? []).some((distance) => distance > 3.5),
    );
    expect(Math.abs(past.length / RACKS - usual)).toBeLessThan(error(usual) + 5e-3);
  }
});

test("with three fixtures nobody can say which is the odd one", () => {
  expect(oddInRack([{ values: [1, 2, 9], matters: 0 }])).toEqual([undefined]);
});

test("in a large rack two that are off together do not hide each other", () => {
  expect(oddIn(10, 11, 9, 10, 10.5, 9.5, 30, 31)).toEqual([7, 6]);
});

test("readings that are all the same have no odd one, and one that differs from all the same is odd", () => {
  expect(oddIn(5, 5, 5, 5, 5)).toEqual([]);
  expect(oddIn(5, 5, 5, 5, 5, 5, 5, 5, 9)).toEqual([8]);
});

test("a difference that does not matter is not odd, however steady the others are, and lies within the limits", () => {
  const [found] = oddInRack([{ values: [1000, 1000, 1001, 1000, 1000, 1010], matters: 50 }]);
  expect(found?.odd).toEqual([]);
  expect([found?.low ?? 0, found?.high ?? 0].map(Math.round)).toEqual([952, 1052]);
});

test("those that are not odd lie between the limits; in a large rack those that are odd do not", () => {
  const reading = fc.double({ min: -5, max: 5, noNaN: true });
  const values = fc.array(fc.oneof(reading, fc.double({ min: -100, max: 100, noNaN: true })), {
    minLength: 4,
    maxLength: 16,
  });
  fc.assert(
    fc.property(values, (readings) => {
      const { odd, low, high } = oddInRack([{ values: readings, matters: 0 }])[0] ?? expect.fail("four or more");
      for (const [index, value] of readings.entries())
        if (!odd.includes(index)) expect(value >= low - 1e-9 && value <= high + 1e-9).toBe(true);
      const last = readings[odd.at(-1) ?? -1];
      if (readings.length >= 8 && last !== undefined) expect(last < low || last > high).toBe(true);
    }),
  );
});

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

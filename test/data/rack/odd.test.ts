import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type OddOnes, oddInRack } from "../../../src/data/rack/odd.ts";
import { ODD_LEVELS, SHARERS } from "../../../src/data/rack/odd-levels.ts";
import { medianDistances } from "../../../src/domain/statistics/extremes.ts";
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

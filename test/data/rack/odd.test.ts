import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type OddRule, oddOnes, oddRule } from "../../../src/data/rack/odd.ts";
import { medianDistances } from "../../../src/domain/statistics/median-distance.ts";
import { chanceFrom, normal } from "../../../src/sim/chance.ts";

const RACKS = 8_000;
/** Four standard errors of a share counted over so many racks. */
const error = (share: number): number => 4 * Math.sqrt((share * (1 - share)) / RACKS);
/** The share of simulated racks of which something is true; sound fixtures scatter normally with a deviation of 1. */
const shareOf = (size: number, off: readonly number[], holds: (values: readonly number[]) => boolean): number => {
  const chance = chanceFrom(size);
  let count = 0;
  for (let rack = 0; rack < RACKS; rack++)
    if (holds(Array.from({ length: size }, (_, index) => normal(chance) + (off[index] ?? 0)))) count += 1;
  return count / RACKS;
};
const ruleFor = (size: number): OddRule => oddRule(size) ?? expect.fail("too few");
const oddIn = (...values: readonly number[]): readonly number[] => oddOnes(ruleFor(values.length), values, 0).odd;

/** The shares were simulated in another language, 200 000 racks each (numpy 2.4, scipy 1.17). */
describe("what a rack can show, where sound fixtures scatter by 1", () => {
  test.each([
    { size: 4, clean: 0.052, oneAt6: 0.305, oneAt10: 0.624, twoAt6: 0 },
    { size: 5, clean: 0.081, oneAt6: 0.566, oneAt10: 0.926, twoAt6: 0.054 },
    { size: 6, clean: 0.0765, oneAt6: 0.725, oneAt10: 0.989, twoAt6: 0.108 },
    { size: 7, clean: 0.0827, oneAt6: 0.82, oneAt10: 0.998, twoAt6: 0.171 },
    { size: 8, clean: 0.0452, oneAt6: 0.782, oneAt10: 0.998, twoAt6: 0.588 },
    { size: 12, clean: 0.0433, oneAt6: 0.918, oneAt10: 1, twoAt6: 0.834 },
    { size: 24, clean: 0.0349, oneAt6: 0.974, oneAt10: 1, twoAt6: 0.948 },
  ])("$size fixtures: one at 6 is named in $oneAt6, two in $twoAt6, a sound one in $clean of racks", (shares) => {
    const { size, clean, oneAt6, oneAt10, twoAt6 } = shares;
    const rule = ruleFor(size);
    const named = (wanted: readonly number[]) => (values: readonly number[]) => {
      const { odd } = oddOnes(rule, values, 0);
      return wanted.length === 0 ? odd.length > 0 : wanted.every((index) => odd.includes(index));
    };
    const close = (found: number, wanted: number) =>
      expect(Math.abs(found - wanted)).toBeLessThan(error(wanted) + 1e-3);
    close(shareOf(size, [], named([])), clean);
    close(shareOf(size, [6], named([0])), oneAt6);
    close(shareOf(size, [10], named([0])), oneAt10);
    close(shareOf(size, [6, 6], named([0, 1])), twoAt6);
  });
});

/** The usual cut cries wolf; the calibrated ones do so in 5 % of racks. Values agreed by independent programs. */
test.each([
  { size: 4, usual: 0.17, cut: 6.89 },
  { size: 5, usual: 0.207, cut: 7.949 },
  { size: 6, usual: 0.153, cut: 5.532 },
  { size: 7, usual: 0.169, cut: 5.846 },
  { size: 8, usual: 0.14, cut: 4.931 },
  { size: 12, usual: 0.117, cut: 4.354 },
  { size: 24, usual: 0.094, cut: 3.913 },
])("median distances past 3.5 are in $usual of sound racks of $size, past $cut in 5 %", ({ size, usual, cut }) => {
  const past = (limit: number) => (values: readonly number[]) =>
    (medianDistances(values) ?? []).some((distance) => distance > limit);
  expect(Math.abs(shareOf(size, [], past(3.5)) - usual)).toBeLessThan(error(usual) + 5e-3);
  expect(Math.abs(shareOf(size, [], past(cut)) - 0.05)).toBeLessThan(error(0.05));
});

/** Simulated like the ones above: a false name in either of the two numbers, and one that is off by 6 in one of them. */
test.each([
  { size: 4, clean: 0.051, oneAt6: 0.165 },
  { size: 6, clean: 0.079, oneAt6: 0.546 },
  { size: 8, clean: 0.044, oneAt6: 0.636 },
  { size: 12, clean: 0.043, oneAt6: 0.846 },
])("both numbers of a colour together cry wolf no more often than one number alone, in racks of $size", (shares) => {
  const rule = oddRule(shares.size, "half") ?? expect.fail("too few");
  const odd = (values: readonly number[]) => oddOnes(rule, values, 0).odd;
  const one = shareOf(shares.size, [], (values) => odd(values).length > 0);
  const either = 1 - (1 - one) ** 2;
  expect(Math.abs(either - shares.clean)).toBeLessThan(2 * error(shares.clean));
  const found = shareOf(shares.size, [6], (values) => odd(values).includes(0));
  expect(Math.abs(found - shares.oneAt6)).toBeLessThan(error(shares.oneAt6));
});

test("with three fixtures nobody can say which is the odd one", () => {
  expect(oddRule(3)).toBeUndefined();
});

test("in a large rack two that are off together do not hide each other", () => {
  expect(oddIn(10, 11, 9, 10, 10.5, 9.5, 30, 31)).toEqual([7, 6]);
});

test("readings that are all the same have no odd one, and one that differs from all the same is odd", () => {
  expect(oddIn(5, 5, 5, 5, 5)).toEqual([]);
  expect(oddIn(5, 5, 5, 5, 9)).toEqual([4]);
  expect(oddIn(5, 5, 5, 5, 5, 5, 5, 5, 9)).toEqual([8]);
});

test("a difference that does not matter is not odd, however steady the others are, and lies within the limits", () => {
  const found = oddOnes(ruleFor(6), [1000, 1000, 1001, 1000, 1000, 1010], 50);
  expect(found.odd).toEqual([]);
  expect([found.low, found.high].map(Math.round)).toEqual([952, 1052]);
});

test("those that are not odd lie between the limits; in a large rack those that are odd do not", () => {
  const reading = fc.double({ min: -5, max: 5, noNaN: true });
  const values = fc.array(fc.oneof(reading, fc.double({ min: -100, max: 100, noNaN: true })), {
    minLength: 4,
    maxLength: 16,
  });
  fc.assert(
    fc.property(values, (readings) => {
      const { odd, low, high } = oddOnes(ruleFor(readings.length), readings, 0);
      for (const [index, value] of readings.entries()) {
        const inside = value >= low - 1e-9 && value <= high + 1e-9;
        if (!odd.includes(index)) expect(inside).toBe(true);
      }
      const last = readings[odd.at(-1) ?? -1];
      if (readings.length >= 8 && last !== undefined) expect(last < low || last > high).toBe(true);
    }),
  );
});

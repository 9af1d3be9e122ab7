import { describe, expect, test } from "vitest";
import { betaBelow } from "../../src/faults/beta-quantile.ts";
import { brier, cleanPassesNeeded, jeffreys, logScore, wilson } from "../../src/faults/score.ts";

const forecasts = [0.9, 0.8, 0.7, 0.3, 0.2, 0.6, 0.1, 0.4].map((probability, i) => ({
  probability,
  came: [1, 1, 0, 0, 0, 1, 0, 1][i] === 1,
}));

/** Worked by hand. */
test("Brier score and log score of eight forecasts", () => {
  expect(brier(forecasts)).toBeCloseTo(0.15, 12);
  expect(logScore(forecasts)).toBeCloseTo(0.4555965297311, 12);
});

/** Wilson 1927; values agreed by independent programs. */
test.each([
  [8, 10, 0.490162, 0.943318],
  [0, 10, 0, 0.277533],
  [3, 5, 0.230724, 0.882379],
  [17, 24, 0.508323, 0.850854],
])("Wilson: %d of %d lie between %d and %d", (yes, of, low, high) => {
  expect(wilson(yes, of).low).toBeCloseTo(low, 6);
  expect(wilson(yes, of).high).toBeCloseTo(high, 6);
});

/** Values agreed by independent programs. */
test.each([
  [8, 10, 0.497226, 0.955941],
  [0, 10, 0, 0.217196],
])("Jeffreys: %d of %d lie between %d and %d", (yes, of, low, high) => {
  expect(jeffreys(yes, of).low).toBeCloseTo(low, 6);
  expect(jeffreys(yes, of).high).toBeCloseTo(high, 6);
});

/** Closed forms: Beta(1,1) is even, Beta(2,1) is a square, Beta(1/2,1/2) the arcsine law. */
test.each([0.01, 0.3, 0.5, 0.9, 0.999])("the incomplete beta function at %d has its closed forms", (x) => {
  expect(betaBelow(x, 1, 1)).toBeCloseTo(x, 12);
  expect(betaBelow(x, 2, 1)).toBeCloseTo(x * x, 12);
  expect(betaBelow(x, 0.5, 0.5)).toBeCloseTo((2 / Math.PI) * Math.asin(Math.sqrt(x)), 9);
});

/** (1 - share)^n <= .05. */
describe("clean passes needed before a fault that comes and goes may be called gone", () => {
  test.each([
    [0.5, 5],
    [0.3, 9],
    [0.2, 14],
    [0.1, 29],
  ])("seen in %d of passes: %d", (share, passes) => {
    expect(cleanPassesNeeded(share)).toBe(passes);
  });

  test("never three, however often it was seen short of always nearly", () => {
    expect(cleanPassesNeeded(0.6)).toBeGreaterThan(3);
  });
});

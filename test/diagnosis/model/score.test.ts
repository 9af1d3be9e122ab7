import { describe, expect, test } from "vitest";
import { brier, cleanPassesNeeded, logScore } from "../../../src/diagnosis/model/score.ts";

const forecasts = [0.9, 0.8, 0.7, 0.3, 0.2, 0.6, 0.1, 0.4].map((probability, i) => ({
  probability,
  came: [1, 1, 0, 0, 0, 1, 0, 1][i] === 1,
}));

/** Worked by hand. */
test("Brier score and log score of eight forecasts", () => {
  expect(brier(forecasts)).toBeCloseTo(0.15, 12);
  expect(logScore(forecasts)).toBeCloseTo(0.4555965297311, 12);
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

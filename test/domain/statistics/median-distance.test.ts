import { expect, test } from "vitest";
import { medianDistances } from "../../../src/domain/statistics/extremes.ts";

/** By hand: median 3, deviations 2 1 0 1 97, their median 1. */
test("distances from the median are in median deviations", () => {
  expect(medianDistances([1, 2, 3, 4, 100])).toEqual([1.349, 0.6745, 0, 0.6745, 0.6745 * 97]);
});

test("when more than half of the values are the same there is nothing to measure with, and nothing is divided by it", () => {
  expect(medianDistances([5, 5, 5, 9])).toBeUndefined();
});

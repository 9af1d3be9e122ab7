import { expect, test } from "vitest";
import { betaBelow } from "../../../src/domain/statistics/distributions.ts";

/** Closed forms: Beta(1,1) is even, Beta(2,1) is a square, Beta(1/2,1/2) the arcsine law. */
test.each([0.01, 0.3, 0.5, 0.9, 0.999])("the incomplete beta function at %d has its closed forms", (x) => {
  expect(betaBelow(x, 1, 1)).toBeCloseTo(x, 12);
  expect(betaBelow(x, 2, 1)).toBeCloseTo(x * x, 12);
  expect(betaBelow(x, 0.5, 0.5)).toBeCloseTo((2 / Math.PI) * Math.asin(Math.sqrt(x)), 9);
});

import { expect, test } from "vitest";
import { leastSquares, shareOf } from "../../../src/domain/statistics/sample.ts";

/** Wilson 1927; values agreed by independent programs. */
test.each([
  { hits: 8, of: 10, low: 0.490162, high: 0.943318 },
  { hits: 0, of: 10, low: 0, high: 0.277533 },
  { hits: 3, of: 5, low: 0.230724, high: 0.882379 },
  { hits: 17, of: 24, low: 0.508323, high: 0.850854 },
])("$hits of $of is between $low and $high", ({ hits, of, low, high }) => {
  const share = shareOf(hits, of);
  expect(share.low).toBeCloseTo(low, 6);
  expect(share.high).toBeCloseTo(high, 6);
});

test("of nothing, everything is possible", () => {
  expect(shareOf(0, 0)).toEqual({ hits: 0, of: 0, low: 0, high: 1 });
});

/** Anscombe 1973, first of the four sets; values and standard errors from memory, as statistics programs print them. */
test("a straight line through eleven readings has the published slope, intercept and standard errors", () => {
  const x = [10, 8, 13, 9, 11, 14, 6, 4, 12, 7, 5];
  const y = [8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68];
  const [intercept, slope] =
    leastSquares(
      x.map((at) => [1, at]),
      y,
    ) ?? [];
  expect(intercept?.value).toBeCloseTo(3.0001, 4);
  expect(intercept?.error).toBeCloseTo(1.1247, 4);
  expect(slope?.value).toBeCloseTo(0.5001, 4);
  expect(slope?.error).toBeCloseTo(0.1179, 4);
});

/** By hand: through two points there is one line and nothing to spare; a third point on it leaves nothing over. */
test.each([
  { readings: 2, error: undefined, because: "nothing is left to say how far readings scatter" },
  { readings: 3, error: 0, because: "one is to spare, and it lies on the line" },
])("a line through $readings readings has the error $error, because $because", ({ readings, error }) => {
  const at = Array.from({ length: readings }, (_, index) => index);
  const [intercept, slope] =
    leastSquares(
      at.map((x) => [1, x]),
      at.map((x) => 1 + 2 * x),
    ) ?? [];
  expect(intercept?.value).toBeCloseTo(1, 9);
  expect(slope?.value).toBeCloseTo(2, 9);
  if (error === undefined) expect([intercept?.error, slope?.error]).toEqual([undefined, undefined]);
  else expect(slope?.error).toBeCloseTo(error, 6);
});

test("columns that say the same cannot be told apart: no estimate", () => {
  expect(
    leastSquares(
      [
        [1, 2],
        [2, 4],
        [3, 6],
      ],
      [1, 2, 3],
    ),
  ).toBeUndefined();
});

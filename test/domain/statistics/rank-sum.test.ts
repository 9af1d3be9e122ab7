import { expect, test } from "vitest";
import { depthOf } from "../../../src/domain/statistics/rank-sum.ts";

/** Exact intervals of the midpoint median at 95 %: Hodges and Lehmann 1963 with the rank-sum distribution. */
test.each([
  { each: 4, k: 1, coverage: 97.1429 },
  { each: 5, k: 3, coverage: 96.8254 },
  { each: 6, k: 6, coverage: 95.8874 },
  { each: 8, k: 14, coverage: 95.0117 },
])(
  "with $each presses each way the interval begins at midpoint $k and holds the place $coverage % of the time",
  ({ each, k, coverage }) => {
    const depth = depthOf(each, each);
    expect(depth?.k).toBe(k);
    expect((depth?.coverage ?? 0) * 100).toBeCloseTo(coverage, 4);
  },
);

test.each([
  { up: 3, down: 3, because: "the outermost midpoints hold the place 90 % of the time" },
  { up: 3, down: 4, because: "and here 94 %" },
  { up: 1, down: 30, because: "one press one way is not enough whatever the other way has" },
])("there is no 95 % interval from $up up and $down down: $because", ({ up, down }) => {
  expect(depthOf(up, down)).toBeUndefined();
});

test("three presses one way are enough when there are five the other way", () => {
  expect(depthOf(3, 5)).toEqual({ k: 1, coverage: 1 - 2 / 56 });
});

test("the coverage is that of all orders of the presses, counted one by one", () => {
  for (const [n, m] of [
    [4, 4],
    [5, 4],
    [6, 3],
    [5, 6],
  ] as const) {
    const depth = depthOf(n, m, 0.8);
    const inversions = ordersOf(n, m);
    const outside = inversions.filter((count) => count < depth!.k).length;
    expect(depth?.coverage).toBeCloseTo(1 - (2 * outside) / inversions.length, 12);
  }
});

/** For every way to place n among n + m: how many of the m stand before each of the n, summed. */
const ordersOf = (n: number, m: number): readonly number[] => {
  if (n === 0 || m === 0) return [0];
  return [...ordersOf(n - 1, m).map((count) => count + m), ...ordersOf(n, m - 1)];
};

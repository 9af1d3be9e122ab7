import { expect, test } from "vitest";
import { complement, depthOf, normalQuantile, studentQuantile } from "../../../src/domain/statistics/distributions.ts";

/** scipy 1.17, scipy.stats.norm.ppf. */
test.each([
  { probability: 0.5, z: 0 },
  { probability: 0.975, z: 1.959963984540054 },
  { probability: 0.001, z: -3.090232306167813 },
])("the normal quantile of $probability is $z", ({ probability, z }) => {
  expect(normalQuantile(probability)).toBeCloseTo(z, 10);
});

/** scipy 1.17, scipy.special.erfc; the first three are also in Abramowitz and Stegun, table 7.1. */
test.each([
  { x: 0.5, value: 0.4795001221869535 },
  { x: 1, value: 0.15729920705028516 },
  { x: 2, value: 0.004677734981047266 },
  { x: 2.4999, value: 0.0004071699003334512 },
  { x: 2.5001, value: 0.0004067342434706796 },
  { x: 6, value: 2.1519736712498913e-17 },
  { x: 0, value: 1 },
  { x: -1, value: 1.8427007929497148 },
])("the complementary error function of $x is $value", ({ x, value }) => {
  expect(complement(x) / value).toBeCloseTo(1, 11);
});

/** scipy 1.17, scipy.stats.t.ppf. */
test.each([
  { probability: 0.975, freedom: 1, t: 12.706204736174694 },
  { probability: 0.975, freedom: 1.3, t: 7.500529325562029 },
  { probability: 0.975, freedom: 2.5, t: 3.5746548420036817 },
  { probability: 0.975, freedom: 7, t: 2.364624251592784 },
  { probability: 0.975, freedom: 100, t: 1.9839715185235518 },
  { probability: 0.9999, freedom: 1, t: 3183.098757118502 },
  { probability: 0.9999, freedom: 2.5, t: 34.867969321116306 },
  { probability: 0.975, freedom: 1e4, t: 1.960201239890626 },
  { probability: 0.5, freedom: 3, t: 0 },
  { probability: 0.025, freedom: 7, t: -2.364624251592784 },
])("Student's t at $probability with $freedom degrees of freedom is $t", ({ probability, freedom, t }) => {
  expect(studentQuantile(probability, freedom)).toBeCloseTo(t, 6);
});

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

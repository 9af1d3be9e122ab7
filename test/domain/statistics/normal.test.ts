import { expect, test } from "vitest";
import { complement, normalQuantile } from "../../../src/domain/statistics/distributions.ts";

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

import { expect, test } from "vitest";
import { chanceFrom, exGaussian, seedFor } from "../../src/sim/chance.ts";

const draws = (seed: number, count: number) => {
  const chance = chanceFrom(seed);
  return Array.from({ length: count }, chance);
};

test("the same seed draws the same, another seed something else", () => {
  expect(draws(7, 50)).toEqual(draws(7, 50));
  expect(draws(7, 50)).not.toEqual(draws(8, 50));
  expect(seedFor(1, "pan")).not.toBe(seedFor(1, "tilt"));
});

test("draws lie evenly in [0, 1)", () => {
  const values = draws(1, 20_000);
  expect(Math.min(...values)).toBeGreaterThanOrEqual(0);
  expect(Math.max(...values)).toBeLessThan(1);
  const tenths = Array.from({ length: 10 }, (_, n) => values.filter((v) => Math.floor(v * 10) === n).length);
  for (const count of tenths) expect(Math.abs(count - 2000)).toBeLessThan(200);
});

test("reaction times are ex-Gaussian .30/.05/.10 s: mean .40, spread sqrt(.05^2 + .10^2) (an assumption, no source)", () => {
  const chance = chanceFrom(3);
  const times = Array.from({ length: 20_000 }, () => exGaussian(chance, 0.3, 0.05, 0.1));
  const mean = times.reduce((sum, time) => sum + time, 0) / times.length;
  const spread = Math.sqrt(times.reduce((sum, time) => sum + (time - mean) ** 2, 0) / times.length);
  expect(mean).toBeCloseTo(0.4, 2);
  expect(spread).toBeCloseTo(Math.sqrt(0.05 ** 2 + 0.1 ** 2), 2);
});

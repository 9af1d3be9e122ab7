import { expect, test } from "vitest";
import { expression } from "../../../src/diagnosis/model/exposure.ts";
import type { Observation } from "../../../src/diagnosis/model/observation.ts";

const seen = (movements: number | undefined): Observation => ({
  routine: "sweep",
  functions: [],
  result: "pass",
  symptoms: [],
  watched: "attended",
  litMinutes: 5,
  attitude: "standing",
  ...(movements === undefined ? {} : { movements }),
});

test("more passes see more of what comes now and then, never all of it; a there and back is what is usual", () => {
  const chances = [1, 2, 4, 10, 40].map((movements) => expression("now-and-then", seen(movements)));
  expect(chances).toEqual(chances.toSorted((a, b) => a - b));
  expect(new Set(chances).size).toBe(5);
  expect(chances.at(-1)).toBeLessThan(1);
  expect(expression("now-and-then", seen(undefined))).toBe(expression("now-and-then", seen(2)));
  expect(expression("now-and-then", seen(4))).toBeCloseTo(1 - 0.65 ** 2, 12); // worked
});

test("what is always there does not need more passes", () => {
  expect(expression("always", seen(1))).toBe(expression("always", seen(40)));
});

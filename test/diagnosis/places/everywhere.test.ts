import { expect, test } from "vitest";
import { logAllAlong, logNoPlace, logOfRate, UNKNOWN } from "../../../src/diagnosis/places/beliefs.ts";
import { totalOf } from "../../../src/diagnosis/places/likelihood.ts";
import { stepOf } from "./kit/rig.ts";
import { KEEN, watched } from "./kit/session.ts";

const FULL = stepOf("{ sweep: Pan, deg_per_s: 60, passes: 10 }");

test.each([
  { presses: 0, time: 60, b: 10 },
  { presses: 7, time: 95, b: 10 },
  { presses: 20, time: 30, b: 4 },
])("$presses presses in $time s: the closed form is the sum over all rates", ({ presses, time, b }) => {
  let sum = 0;
  const step = 1e-4;
  for (let rate = step / 2; rate < 5; rate += step)
    sum += rate ** presses * Math.exp(-rate * time) * b * Math.exp(-b * rate);
  expect(logOfRate({ presses, time }, b)).toBeCloseTo(Math.log(sum * step), 4);
});

test("tied to no place counts presses and seconds over all steps, wherever they were", () => {
  const watches = watched([FULL, FULL], { kind: "position", place: 90 }, KEEN);
  expect(logNoPlace(watches)).toBe(logOfRate(totalOf(watches)));
});

test("presses on one way only speak for that way, all along, and against the other", () => {
  const watches = watched([FULL], { kind: "all-along", way: "up" }, KEEN);
  expect(logAllAlong(watches, "up", UNKNOWN)).toBeGreaterThan(logNoPlace(watches));
  expect(logAllAlong(watches, "down", UNKNOWN)).toBeLessThan(logNoPlace(watches));
});

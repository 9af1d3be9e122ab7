import { expect, test } from "vitest";
import {
  meanReaction,
  reachOf,
  reactionDensity,
  reactionOf,
  USUAL_REACTION,
} from "../../../src/diagnosis/places/delay.ts";

/** scipy 1.17, scipy.stats.exponnorm.pdf with K = 2, loc = .3, scale = .05. */
test.each([
  { time: 0.2, density: 0.1912711576259773 },
  { time: 0.4, density: 3.890126348285035 },
  { time: 0.6, density: 0.5641613843245955 },
  { time: 1, density: 0.010332976386476378 },
])("reactions of $time s are as dense as the ex-Gaussian says", ({ time, density }) => {
  expect(reactionDensity(USUAL_REACTION, time) / density).toBeCloseTo(1, 9);
});

test("all reactions together are one, and nearly all lie within reach", () => {
  const sum = (from: number, to: number) => {
    let total = 0;
    for (let time = from; time < to; time += 0.001) total += reactionDensity(USUAL_REACTION, time + 0.0005) * 0.001;
    return total;
  };
  expect(sum(-1, 4)).toBeCloseTo(1, 6);
  const [soonest, latest] = reachOf(USUAL_REACTION);
  expect(1 - sum(soonest, latest)).toBeLessThan(1e-6);
});

test("somebody slower has the same shape, later", () => {
  expect(meanReaction(reactionOf(0.62))).toBeCloseTo(0.62, 12);
  expect(reactionDensity(reactionOf(0.62), 0.82)).toBeCloseTo(reactionDensity(USUAL_REACTION, 0.6), 9);
});

import { expect, test } from "vitest";
import { pointsInWords } from "../../src/ui/holding-rows.ts";
import { Driven, jobOf } from "../kit/driven.ts";

/** Watched with its light on for a while, answered, and then to be switched on once more. */
const swept = (profile: string) => {
  const run = new Driven(jobOf(["hold: Dimmer", "sweep: Pan"], {}, profile)).started();
  return run.playOut().send({ kind: "judge", result: "pass" }).session;
};
const HOT = /too hot to strike for up to 8 min/;

/** Common practice, no source: a discharge lamp that was lit has to cool first. */
test("before the mains goes on again it is said that a hot lamp does not strike at once", () => {
  const session = swept("spot-16bit");
  expect(session.view.steps[0]?.judged?.lit_min).toBeGreaterThan(0);
  expect(pointsInWords(session, "mains-on").filter((words) => HOT.test(words))).toHaveLength(1);
});

test.each([
  ["the lamp has not been lit in this run", new Driven(jobOf(["hold: Dimmer"])).started().session, "mains-on"],
  ["nothing is switched on", swept("spot-16bit"), "before-moving"],
  ["light that is not a lamp strikes at once", swept("led-wash"), "mains-on"],
] as const)("nothing is said where %s", (_, session, point) => {
  expect(pointsInWords(session, point).filter((words) => /too hot/.test(words))).toEqual([]);
});

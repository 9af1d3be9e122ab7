import { expect, test } from "vitest";
import { placeAt } from "../../src/plan/sample.ts";
import { wherePressed } from "../../src/reports/sheet-step.ts";
import { Driven, jobOf } from "../kit/driven.ts";
import { shippedProfile } from "../kit/shipped.ts";

const spot = shippedProfile("spot-16bit");
const SWEEP = "{ sweep: Pan, deg_per_s: 60, passes: 10 }";

/** Presses so many seconds after every crossing of a place, as a person does who sees it there. */
const pressedAt = (degrees: number, delay_s: number): Driven => {
  const run = new Driven(jobOf([SWEEP])).started();
  const step = run.session.job.timeline.steps[0]!;
  for (let n = step.leadIn + 1; n <= step.frames; n++) {
    const [before = 0, now = 0] = [placeAt(spot, step, "Pan", n - 1), placeAt(spot, step, "Pan", n)];
    if (before !== degrees && (before - degrees) * (now - degrees) <= 0)
      run.send({ kind: "press" }, n + Math.round(delay_s * 40));
  }
  return run
    .playOut()
    .send({ kind: "symptom", symptom: { symptom: "jerks", function: "Pan" } })
    .send({ kind: "confirm" });
};

test.each([0.5, 0.7, 0.9])(
  "presses %s s late on every pass, both ways, name the place to the degree (worked: what is late both ways cancels)",
  (delay) => {
    const [where] = wherePressed(pressedAt(90, delay).session.view, spot);
    expect(where?.words[0]).toMatch(/^both ways/);
    const degrees = Number(/\((-?\d+) degrees\)/.exec(where!.words[0]!)?.[1]);
    expect(Math.abs(degrees - 90)).toBeLessThanOrEqual(1);
    expect(where?.strip.ticks).toHaveLength(10);
  },
);

test("without a failed function, or without presses, nothing is said of places", () => {
  expect(
    wherePressed(
      new Driven(jobOf([SWEEP])).started().playOut().send({ kind: "judge", result: "pass" }).session.view,
      spot,
    ),
  ).toEqual([]);
  const silent = new Driven(jobOf([SWEEP])).started().playOut();
  silent.send({ kind: "symptom", symptom: { symptom: "jerks", function: "Pan" } }).send({ kind: "confirm" });
  expect(wherePressed(silent.session.view, spot)).toEqual([]);
});

test("two functions that moved together say nothing of one of them", () => {
  const run = new Driven(jobOf(["{ sweep: [Pan, Tilt], passes: 2 }"])).started().send({ kind: "press" }, 100).playOut();
  run.send({ kind: "symptom", symptom: { symptom: "jerks", function: "Pan" } }).send({ kind: "confirm" });
  expect(wherePressed(run.session.view, spot)).toEqual([]);
});

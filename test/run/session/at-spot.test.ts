import { describe, expect, test } from "vitest";
import { rawAt } from "../../../src/plan/sample.ts";
import type { CompiledStep } from "../../../src/plan/timeline.ts";
import { failing, pressing } from "../../diagnosis/places/kit/pressed-run.ts";
import { Driven, jobOf } from "../../kit/driven.ts";

const FULL = "{ sweep: Pan, deg_per_s: 60, passes: 10 }";
/** Pressed at 90 degrees on every pass, both ways, and called a jerk. */
const found = (): Driven =>
  failing(pressing(new Driven(jobOf([FULL, "sweep: Iris"])).started(), { kind: "position", place: 90 }), "jerks");
const spot = (run: Driven) => {
  const { stage } = run.session;
  if (stage.kind !== "at-spot") throw new Error(`not at the spot: ${stage.kind}`);
  return stage;
};
const pansIn = (step: CompiledStep, from = 0) =>
  Array.from({ length: step.frames + 1 - from }, (_, n) => rawAt(step, "Pan", n + from));
const arrival = (step: CompiledStep) => step.moves[0]!.start + step.moves[0]!.frames;

describe("return to the spot", () => {
  test("it goes there from where it stood, never faster than a quarter of its own speed, and stays within what is known of the place", () => {
    const { step, spot: place } = spot(found().send({ kind: "return" }));
    const pans = pansIn(step);
    expect(pans[0]).toBe(0);
    const fastest = Math.max(...pans.map((pan, n) => Math.abs(pan - (pans[n - 1] ?? pan))));
    // The profile: 540 degrees, all of 65535, in 2.6 s.
    expect(fastest).toBeLessThan(65535 / (2.6 * 40) / 4);
    const working = pansIn(step, arrival(step));
    expect([Math.min(...working), Math.max(...working)]).toEqual([place.low, place.high]);
    expect(place.low).toBeLessThan(65535 * (360 / 540));
    expect(place.high).toBeGreaterThan(65535 * (360 / 540));
  });

  test("nothing else moves, and the light stays as it was", () => {
    const { step } = spot(found().send({ kind: "return" }));
    expect(new Set(step.moves.map(({ function: id }) => id))).toEqual(new Set(["Pan"]));
    expect(step.start.get("Shutter1")).toBe(jobOf([FULL]).timeline.steps[0]!.start.get("Shutter1"));
  });

  test("an arrow nudges it from where it is by half its width, as a movement of its own that is kept", () => {
    const run = found().send({ kind: "return" });
    const { spot: place, step } = spot(run);
    const frame = arrival(step) + 30;
    run.send({ kind: "nudge", towards: "high" }, frame);
    const after = spot(run);
    const by = Math.round((place.high - place.low) / 2);
    expect(after.spot).toEqual({ ...place, low: place.low + by, high: place.high + by });
    expect(rawAt(after.step, "Pan", 0)).toBe(rawAt(step, "Pan", frame));
    expect(run.events("course-changed").map(({ what }) => what)).toEqual(["returned", "nudged"]);
    expect(run.events("course-changed")[1]?.detail).toBe(`Pan ${place.low + by} to ${place.high + by}, 2 s one way`);
  });

  test("nudged on and on it comes to the end of the travel and stays in it", () => {
    const run = found().send({ kind: "return" });
    for (let n = 0; n < 200; n++) run.send({ kind: "nudge", towards: "high" }, 100);
    expect(Math.max(...pansIn(spot(run).step))).toBe(65535);
    for (let n = 0; n < 400; n++) run.send({ kind: "nudge", towards: "low" }, 100);
    expect(spot(run).spot.low).toBe(0);
  });

  test.each(["press", "again", "confirm"] as const)(
    "%s ends it: it stands still, and what was found is shown again",
    (kind) => {
      const run = found();
      const placed = run.session.stage;
      run.send({ kind: "return" }).send({ kind }, 100);
      expect(run.effects.at(-1)).toEqual({ kind: "go-dark" });
      expect(run.session.stage).toBe(placed);
      expect(run.send({ kind: "choose", offer: 0 }).session.stage.kind).toBe("slow-start");
    },
  );

  test("it goes on as long as somebody touches a key now and then, and ends by itself when nobody does", () => {
    const run = found().send({ kind: "return" });
    expect(run.playOut().session.stage.kind).toBe("at-spot");
    expect(run.playOut().session.stage.kind).toBe("placed");
  });

  test("after somebody left nothing moves before the area is confirmed anew", () => {
    expect(found().send({ kind: "away" }).send({ kind: "return" }).session.stage.kind).toBe("placed");
  });

  test("without a place there is nothing to return to", () => {
    const ends = pressing(new Driven(jobOf([FULL])).started(), { kind: "ends", low: true, high: false });
    expect(failing(ends, "jerks").send({ kind: "return" }).session.stage.kind).toBe("placed");
  });

  test("when the line is lost there, what is answered stays answered", () => {
    const run = new Driven(jobOf(["sweep: Iris", FULL, "sweep: Zoom"])).started().playOut();
    pressing(run.send({ kind: "judge", result: "pass" }), { kind: "position", place: 90 });
    failing(run, "jerks").send({ kind: "return" }).send({ kind: "line-lost", words: "unplugged" }, 100);
    expect(run.events("course-changed").at(-1)).toMatchObject({ what: "line-lost", step: "sweep-pan" });
    run.send({ kind: "line-open" }).send({ kind: "confirm" });
    expect(run.results()).toMatchObject({ "sweep-pan": "fail" });
    expect(run.session.stage).toMatchObject({ kind: "slow-start", next: { index: 2 } });
  });
});

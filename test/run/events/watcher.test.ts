import { describe, expect, test } from "vitest";
import type { BodyOf } from "../../../src/run/events/event.ts";
import { viewOf } from "../../../src/run/events/view.ts";
import { practiceSamples, practiceTally, practisedIn } from "../../../src/run/events/watcher.ts";
import { Driven, jobOf } from "../../kit/driven.ts";

const STEPS = ["sweep: Iris", "sweep: Zoom", "sweep: Focus1", "sweep: CTO"];
const IDS = ["sweep-iris", "sweep-zoom", "sweep-focus1", "sweep-cto"];
const shown = (step: string, ...frames: number[]): BodyOf<"shown"> => ({
  kind: "shown",
  step,
  attempt: 1,
  frames,
  symptoms: frames.length > 0 ? ["jerks"] : [],
});

describe("what a round of practice comes to", () => {
  test("called or not, and there or not: four things a step can be", () => {
    const run = new Driven(jobOf(STEPS)).started();
    for (const result of ["fail", "pass", "unsure", "pass"] as const) run.playOut().send({ kind: "judge", result });
    const view = viewOf([...run.bodies, shown(IDS[0]!, 80), shown(IDS[1]!, 80), shown(IDS[2]!), shown(IDS[3]!)]);
    expect(practisedIn(view).map(({ step, came }) => [step.id, came])).toEqual([
      ["sweep-iris", "caught"],
      ["sweep-zoom", "missed"],
      ["sweep-focus1", "false alarm"],
      ["sweep-cto", "passed correctly"],
    ]);
    expect(practiceTally(practisedIn(view))).toEqual({ hits: 1, misses: 1, falseAlarms: 1, rightlyQuiet: 1 });
  });

  test("a step that nobody watched, or of which nothing is known, counts for nothing", () => {
    const run = new Driven(jobOf(STEPS)).started().playOut().send({ kind: "judge", result: "not-asked" });
    run.playOut().send({ kind: "judge", result: "pass" });
    expect(practisedIn(viewOf([...run.bodies, shown(IDS[0]!, 80)]))).toEqual([]);
  });
});

describe("how quick somebody is, from the moment it showed", () => {
  const pressedAt = (...frames: readonly number[]) => {
    const run = new Driven(jobOf(STEPS)).started();
    for (const frame of frames) run.send({ kind: "press" }, frame);
    return run.playOut().bodies;
  };
  const sample = (frames: readonly number[], ...moments: number[]) =>
    practiceSamples(viewOf([...pressedAt(...frames), shown(IDS[0]!, ...moments)]), "KM", "spot, simulated")[0];

  test("the mean of what was pressed for; what was not is a miss; the fixture's lag has no part in it", () => {
    // 0.4 s and 0.5 s after the first and second; nothing after the third.
    expect(sample([116, 200], 100, 180, 300)).toEqual({
      person: "KM",
      profile: "spot, simulated",
      speed: 0,
      delay: expect.closeTo(0.45, 9),
      presses: 2,
      crossings: 3,
      lag: 0,
    });
  });

  test("what goes on showing is one thing, and a press before it can have been seen is for nothing", () => {
    expect(sample([120], 100, 104, 108, 112)).toMatchObject({ presses: 1, crossings: 1, delay: 0.5 });
    expect(sample([102], 100)).toBeUndefined();
  });
});

import { describe, expect, test } from "vitest";
import { changesInWords, UNBROKEN } from "../../src/ui/sentences.ts";
import { pressing } from "../diagnosis/places/kit/pressed-run.ts";
import type { Truth } from "../diagnosis/places/kit/presser.ts";
import { Driven, jobOf } from "../kit/driven.ts";
import { sightOf, Typist } from "./sights.ts";

const FULL = "{ sweep: Pan, deg_per_s: 60, passes: 10 }";

/** A sweep of pan in which somebody pressed for what is set, and called it a jerk. */
const pressedFor = (truth: Truth): Typist => {
  const at = new Typist(pressing(new Driven(jobOf([FULL, "sweep: Iris"])).started(), truth));
  return at.press(digitOf(at, "jerks"), "enter");
};
const digitOf = (at: Typist, words: string): string => new RegExp(`(\\d)  .*${words}`).exec(at.page())![1]!;
const atTheEnd: Truth = { kind: "ends", low: true, high: false };

describe("after a step with presses", () => {
  test("while it is worked out the page says so, and only stopping is offered", async () => {
    const run = pressing(new Driven(jobOf([FULL, "sweep: Iris"])).started(), atTheEnd);
    run.diagnosis = "by hand";
    const at = new Typist(run);
    at.press(digitOf(at, "jerks"), "enter");
    await expect(`${at.page()}\n`).toMatchFileSnapshot("./pages/diagnosing.txt");
    expect(at.press("enter", "space").run.session.stage.kind).toBe("diagnosing");
    expect(at.press("escape").run.session.stage.kind).toBe("finished");
  });

  test("the place is drawn along the travel and told, with what it may be now and what would tell more", async () => {
    await expect(`${pressedFor({ kind: "position", place: 90 }).page()}\n`).toMatchFileSnapshot("./pages/placed.txt");
  });

  test("can't say yet is said so, and the test that would settle it stands first", async () => {
    await expect(`${pressedFor(atTheEnd).page()}\n`).toMatchFileSnapshot("./pages/placed-open.txt");
  });

  test("read aloud, the presses are named and nothing is drawn", async () => {
    const { session } = pressedFor({ kind: "position", place: 90 }).run;
    const sentences = changesInWords(undefined, sightOf(session, { size: UNBROKEN }));
    await expect(`${sentences.join("\n")}\n`).toMatchFileSnapshot("./pages/placed-plain.txt");
  });

  test("one key plays the test at once; then it is settled, and the faults are ranked anew", async () => {
    const at = pressedFor(atTheEnd).press("1");
    expect(at.run.session.stage).toMatchObject({ kind: "moving", index: 2, step: { routine: "short-sweep" } });
    pressing(at.run, atTheEnd);
    at.press("enter");
    await expect(`${at.page()}\n`).toMatchFileSnapshot("./pages/placed-settled.txt");
    expect(at.press("enter").run.session.stage).toMatchObject({ kind: "moving", index: 1 });
  });

  test("the answer can be taken back, and the step played again", () => {
    expect(pressedFor(atTheEnd).press("u").run.session.stage).toMatchObject({ kind: "asking", index: 0 });
    expect(pressedFor(atTheEnd).press("a").run.session.stage).toMatchObject({ kind: "moving", index: 0, attempt: 2 });
  });
});

test("back at the fault position it says between which places it works, and how to nudge and end it; every button ends it", async () => {
  const at = pressedFor({ kind: "position", place: 90 }).press("r");
  await expect(`${at.page({ frame: 300 })}\n`).toMatchFileSnapshot("./pages/at-spot.txt");
  at.press("right", "up");
  expect(at.page()).toContain("1.3 s one way");
  for (const button of ["space", "a", "s", "escape", "enter"]) {
    at.press(button);
    expect(at.run.session.stage.kind).toBe("placed");
    at.press("r");
  }
});

test("a step that nobody pressed in, or in which several moved, has no place: it goes on", () => {
  const silent = new Typist(new Driven(jobOf([FULL, "sweep: Iris"])).started().playOut()).press("f");
  expect(silent.run.session.stage).toMatchObject({ kind: "moving", index: 1 });
  const both = new Driven(jobOf(["{ sweep: [Pan, Tilt], passes: 2 }", "sweep: Iris"])).started();
  expect(new Typist(both.send({ kind: "press" }, 200).playOut()).press("1", "enter").run.session.stage).toMatchObject({
    kind: "moving",
    index: 1,
  });
});

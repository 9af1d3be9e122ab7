import { describe, expect, test } from "vitest";
import { fittedOf } from "../../../src/data/profile/profile.ts";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import { rawAt } from "../../../src/plan/sample.ts";
import { addedTests } from "../../../src/run/events/step-results.ts";
import { changeBy } from "../../../src/run/machine/diagnose.ts";
import type { Offered } from "../../../src/run/session/offered.ts";
import { Driven, jobOf } from "../../kit/driven.ts";
import { shippedProfile } from "../../kit/shipped.ts";

/** A check of most of what the spot has, in which nobody sees anything. */
const CHECK = [
  "sweep: Pan",
  "sweep: Tilt",
  "sweep: Zoom",
  "sweep: Focus1",
  "sweep: Iris",
  "sweep: ColorSub_C",
  "sweep: ColorSub_M",
  "sweep: ColorSub_Y",
  "sweep: CTO",
  "step-through: Color1",
  "step-through: Gobo1",
  "rotate: Gobo1Pos",
  "in-and-out: Prism1",
  "in-and-out: Frost1",
  "sweep: Dimmer",
];
const allPassed = (run: Driven): Driven => {
  while (run.session.stage.kind === "moving" || run.session.stage.kind === "asking")
    if (run.session.stage.kind === "moving") run.playOut();
    else run.send({ kind: "judge", result: "pass" });
  return run;
};
const quiet = (steps: readonly string[] = CHECK, order: Parameters<typeof jobOf>[1] = {}) =>
  allPassed(new Driven(jobOf(steps, order)).started());

const offersOf = ({ session: { stage } }: Driven): readonly Offered[] =>
  stage.kind === "what-next" ? stage.offers : [];
const kindsOf = (run: Driven) => offersOf(run).map((offer) => offer.kind === "try-out" && offer.under);

describe("when a whole check has shown nothing", () => {
  test("it says what it could not show, and offers what would most likely bring something to light", () => {
    const run = quiet();
    expect(run.session.stage).toMatchObject({
      kind: "what-next",
      ground: { kind: "nothing-found", unexplained: [], untried: ["hot", "tipped", "shaken", "fast", "together"] },
    });
    expect(kindsOf(run)).toContain("hot");
    expect(run.effects.at(-1)).toEqual({ kind: "go-dark" });
  });

  test("one key goes on to the job sheet", () => {
    expect(quiet().send({ kind: "confirm" }).session.stage).toEqual({ kind: "finished", how: "finished" });
  });

  test.each([
    ["a few functions are no check: whoever plays them has asked a question of their own", CHECK.slice(0, 5), {}],
    ["a repair that is played again answers whether it holds", CHECK, { replays: "before" }],
  ] as const)("%s", (_, steps, order) => {
    expect(quiet(steps, order).session.stage.kind).not.toBe("what-next");
  });

  test("a test of several steps is played one after the other, each is asked about, and it counts as one", () => {
    const run = quiet();
    const hot = kindsOf(run).indexOf("hot");
    run.send({ kind: "choose", offer: hot }).send({ kind: "confirm" });
    while (run.session.stage.kind === "slow-start") run.playOut();
    expect(run.session.stage).toMatchObject({ kind: "moving", step: { routine: "soak" } });
    run.playOut();
    expect(run.session.stage).toMatchObject({ kind: "asking", index: CHECK.length });
    run.send({ kind: "judge", result: "pass" });
    expect(run.session.stage).toMatchObject({ kind: "moving", step: { routine: "sweep", beam: "open" } });
    run
      .playOut()
      .send({ kind: "symptom", symptom: { symptom: "stalls", function: "Zoom" } })
      .send({ kind: "confirm" });
    while (run.session.stage.kind === "placed") run.send({ kind: "confirm" });
    allPassed(run);
    expect(addedTests(run.session.view)).toEqual([{ name: "hot-soak", reported: true }]);
    expect(run.session.view.added.map(({ id }) => id)).toEqual([
      "added-1-hot-soak",
      "added-2-of-1-hot-sweep",
      "added-3-of-1-hot-sweep",
      "added-4-of-1-hot-hold",
    ]);
  });

  test("a test of leaning stands the head on one side, then on the other, with the beam open", () => {
    const run = quiet();
    run.send({ kind: "choose", offer: kindsOf(run).indexOf("tipped") });
    const tilt = shippedProfile("spot-16bit").functions.get("Tilt");
    const sides = run.session.job.timeline.steps.slice(CHECK.length).map((step) => {
      const raws = Array.from({ length: step.frames - step.leadIn }, (_, n) => rawAt(step, "Tilt", step.leadIn + n));
      return {
        still: new Set(raws).size === 1,
        up: tilt?.kind === "travel" && raws[0]! > (tilt.low + tilt.high) / 2,
        beam: step.beam,
      };
    });
    expect(sides).toEqual([
      { still: true, up: false, beam: "open" },
      { still: true, up: true, beam: "open" },
    ]);
  });

  test("a test that was stopped before anybody said what came of it is not said to have changed anything", () => {
    const run = quiet().send({ kind: "choose", offer: 0 }).send({ kind: "stop" });
    const ranking = rank(fittedOf(shippedProfile("spot-16bit")), []);
    expect(run.session.view.added).not.toEqual([]);
    expect(changeBy(run.session.view, "a test", ranking, () => ranking)).toBe("");
  });

  test("what was tried is not offered again", () => {
    const run = quiet();
    const before = kindsOf(run);
    run.send({ kind: "choose", offer: 0 }).send({ kind: "confirm" });
    while (run.session.stage.kind === "slow-start") run.playOut();
    allPassed(run);
    expect(before).toContain(before[0]);
    expect(kindsOf(run)).not.toContain(before[0]);
  });

  test("it goes on from its events where it was broken off between two steps of a test", () => {
    const run = quiet();
    run.send({ kind: "choose", offer: kindsOf(run).indexOf("hot") }).send({ kind: "confirm" });
    while (run.session.stage.kind === "slow-start") run.playOut();
    run.playOut().send({ kind: "judge", result: "pass" });
    const again = new Driven(run.session.job, run.bodies).started();
    expect(again.session.stage).toMatchObject({ kind: "moving", index: CHECK.length + 1 });
  });
});

test("what is reported and explained by nothing is said, and asked about of that part, not at the menu", () => {
  const run = new Driven(jobOf([...CHECK, "{ hold: [ColorSub_C, ColorSub_M], at_pct: [50], seconds: 3 }"])).started();
  while (run.session.stage.kind === "moving" && run.session.stage.index < CHECK.length)
    run.playOut().send({ kind: "judge", result: "pass" });
  run
    .playOut()
    .send({ kind: "symptom", symptom: { symptom: "grinds", function: "ColorSub_C" } })
    .send({ kind: "judge", result: "unsure" });
  expect(run.session.stage).toMatchObject({
    kind: "what-next",
    ground: { kind: "reported", unexplained: ["cyan scrapes or grinds"] },
  });
  const [first] = offersOf(run);
  expect(first).toMatchObject({ kind: "driven", function: "ColorSub_C" });
  expect(offersOf(run).filter((offer) => offer.kind === "inspection" && offer.cover === "panel")).toEqual([]);
});

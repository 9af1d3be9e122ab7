import { describe, expect, test } from "vitest";
import { fittedOf } from "../../../src/data/profile/profile.ts";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import { rawAt } from "../../../src/plan/sample.ts";
import { addedTests } from "../../../src/run/events/step-results.ts";
import { changeBy } from "../../../src/run/machine/diagnose.ts";
import type { Offered } from "../../../src/run/session/offered.ts";
import { Driven, jobOf } from "../../kit/driven.ts";
import { shippedProfile } from "../../kit/shipped.ts";
import { sheetOf } from "../../reports/sheets.ts";

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
const kindsOf = (run: Driven) =>
  offersOf(run).map((offer) => (offer.kind === "try-out" ? offer.tests.map(({ under }) => under) : []));
const hotIn = (run: Driven) => kindsOf(run).findIndex((kinds) => kinds.includes("hot"));
/** Chooses an offer, and sees the slow movement first. */
const begun = (run: Driven, offer: number): Driven => {
  run.send({ kind: "choose", offer }).send({ kind: "confirm" });
  while (run.session.stage.kind === "slow-start") run.playOut();
  return run;
};
/** Answers that all was well until this routine is played. */
const upTo = (routine: string, run: Driven): Driven => {
  while (run.session.stage.kind !== "moving" || run.session.stage.step.routine !== routine)
    if (run.session.stage.kind === "moving") run.playOut();
    else run.send({ kind: "judge", result: "pass" });
  return run;
};

describe("when a whole check has shown nothing", () => {
  test("it says what it could not show, and offers what would most likely bring something to light", () => {
    const run = quiet();
    expect(run.session.stage).toMatchObject({
      kind: "what-next",
      ground: { kind: "nothing-found", unexplained: [], untried: ["hot", "tipped", "shaken", "fast", "together"] },
    });
    const [short, hot] = kindsOf(run);
    expect(short).toEqual(expect.arrayContaining(["shaken", "tipped"]));
    expect(hot).toEqual([...(short ?? []), "hot"]);
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

  test("an offer of several tests is played one step after the other, each is asked about, and it counts as one", () => {
    const run = quiet();
    begun(run, 0);
    expect(run.session.stage).toMatchObject({ kind: "moving", index: CHECK.length });
    run.playOut();
    expect(run.session.stage).toMatchObject({ kind: "asking", index: CHECK.length });
    run.send({ kind: "judge", result: "pass" });
    expect(run.session.stage).toMatchObject({ kind: "moving", index: CHECK.length + 1 });
    allPassed(run);
    const names = run.session.view.added.map(({ id }) => id);
    expect(names[0]).toMatch(/^added-1-(shaken|tipped|fast|together)-/);
    for (const [at, name] of names.slice(1).entries())
      expect(name).toMatch(new RegExp(`^added-${at + 2}-of-1-(shaken|tipped|fast|together)-`));
    expect(names.filter((name) => name.endsWith("-shaken-shake"))).toHaveLength(1);
    expect(names.filter((name) => name.includes("-tipped-"))).toHaveLength(2);
    expect(addedTests(run.session.view)).toMatchObject([{ reported: false }]);
  });

  test("while it warms up it is watched in what takes seconds; then nobody has to watch, then it is looked at hot", () => {
    const run = quiet();
    const others = kindsOf(run)[0] ?? [];
    begun(run, hotIn(run));
    upTo("soak", run);
    const before = run.session.view.added.findIndex(({ routine }) => routine === "soak");
    expect(before).toBeGreaterThanOrEqual(others.length);
    run.playOut().send({ kind: "judge", result: "pass" });
    expect(run.session.stage).toMatchObject({ kind: "moving", step: { routine: "sweep", beam: "open" } });
    run
      .playOut()
      .send({ kind: "symptom", symptom: { symptom: "stalls", function: "Zoom" } })
      .send({ kind: "confirm" });
    while (run.session.stage.kind === "placed") run.send({ kind: "confirm" });
    allPassed(run);
    expect(addedTests(run.session.view)).toMatchObject([{ reported: true }]);
    const hot = run.session.view.added.slice(before).map(({ id }) => id.replace(/^added-\d+-of-1-/, ""));
    expect(hot).toEqual(["hot-soak", "hot-sweep", "hot-sweep", "hot-hold"]);
    expect(run.session.view.steps.every(({ judged }) => judged !== undefined)).toBe(true);
  });

  test("once something has shown nobody waits until it is warm: what tells more now is offered", () => {
    const run = begun(quiet(), hotIn(quiet()));
    run
      .playOut()
      .send({ kind: "symptom", symptom: { symptom: "reset-itself", function: undefined } })
      .send({ kind: "judge", result: "fail" });
    allPassed(run);
    expect(run.session.stage).toMatchObject({ kind: "what-next", ground: { kind: "reported" } });
    const played = run.session.view.steps.filter(({ judged }) => judged !== undefined);
    expect(played.some(({ routine }) => routine === "soak")).toBe(false);
    expect(sheetOf(run).steps.filter(({ result }) => result === "not-asked")).toEqual([]);
  });

  test("after the short tests the hot one is next, by itself", () => {
    const run = allPassed(begun(quiet(), 0));
    expect(kindsOf(run)).toEqual([["hot"]]);
    begun(run, 0);
    expect(run.session.stage).toMatchObject({ kind: "moving", step: { routine: "soak" } });
  });

  test("a test of leaning stands the head on one side, then on the other, with the beam open", () => {
    const run = quiet();
    run.send({ kind: "choose", offer: kindsOf(run).findIndex((kinds) => kinds.includes("tipped")) });
    const isTipped = run.session.view.added.map(({ id }) => id.includes("-tipped-"));
    const tilt = shippedProfile("spot-16bit").functions.get("Tilt");
    const added = run.session.job.timeline.steps.slice(CHECK.length);
    const sides = added
      .filter((_, at) => isTipped[at])
      .map((step) => {
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
    const [tried = []] = kindsOf(run);
    allPassed(begun(run, 0));
    for (const kind of tried) expect(kindsOf(run).flat()).not.toContain(kind);
  });

  test("it goes on from its events where it was broken off between two steps of a test", () => {
    const run = begun(quiet(), 0);
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

import { describe, expect, test } from "vitest";
import { Driven, jobOf } from "../../kit/driven.ts";
import { DrivenRack, spots } from "../../kit/driven-rack.ts";

const TWO = ["sweep: Pan", "sweep: Iris"];

test.each([
  { after: 0.1, counts: 1, because: "a knock at the end stop falls exactly there" },
  { after: 0.69, counts: 1, because: "people take 0.3 to 0.6 s" },
  { after: 0.8, counts: 0, because: "by then it was meant for something else" },
])("a press $after s after the last frame of a step: $counts, because $because", ({ after, counts }) => {
  const run = new Driven(jobOf(TWO)).started().playOut();
  run.at += after;
  run.send({ kind: "press" });
  expect(run.events("pressed").map(({ step }) => step)).toEqual(Array(counts).fill("sweep-pan"));
  expect(run.session.stage).toMatchObject({ kind: "asking", index: 0 });
});

test("at the question about a silent group it makes the last step one that is asked about", () => {
  const run = new Driven(jobOf(TWO, { mode: "hands-off" })).started().playOut().playOut();
  expect(run.session.stage.kind).toBe("confirming");
  run.at += 0.3;
  run.send({ kind: "press" });
  expect(run.events("pressed").map(({ step }) => step)).toEqual(["sweep-iris"]);
  expect(run.session.stage).toMatchObject({ kind: "asking", index: 1 });
});

describe("of a rack", () => {
  const rack = () =>
    new DrivenRack({ fixtures: spots(3), steps: ["{ sweep: Pan, passes: 2 }", "{ sweep: Iris, passes: 2 }"] }).begin();
  const pressedIn = (run: DrivenRack, serial: string) =>
    run.batch.members.find((one) => one.serial === serial)?.session.view.steps.map(({ presses }) => presses.length);

  test("at the question whether all was watched it makes the last step one of which it is asked who it was", () => {
    const run = rack().untilStage("confirming");
    run.at += 0.3;
    run.send({ kind: "press" });
    expect(run.batch.stage).toMatchObject({ kind: "which", next: { index: 1, members: [0, 1, 2] } });
    run.differs("S2").send({ kind: "confirm" });
    expect(pressedIn(run, "S2")).toEqual([0, 1]);
    expect(pressedIn(run, "S1")).toEqual([0, 0]);
    expect(run.result("S2", "sweep-iris")).toBe("unsure");
    expect(run.batch.stage.kind, "the others are still asked about").toBe("confirming");
  });

  test("at the question which one it was it counts with the presses before it", () => {
    const run = rack().untilStage("moving").send({ kind: "press" }, 200).playOut();
    expect(run.batch.stage).toMatchObject({ kind: "which", presses: [{ index: 0 }] });
    run.at += 0.3;
    run.send({ kind: "press" }).differs("S1").send({ kind: "confirm" });
    expect(pressedIn(run, "S1")).toEqual([2, 0]);
  });

  test("later than that it answers nothing", () => {
    const run = rack().untilStage("confirming");
    run.at += 0.9;
    expect(run.send({ kind: "press" }).batch.stage.kind).toBe("confirming");
  });
});

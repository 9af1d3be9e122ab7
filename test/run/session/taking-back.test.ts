import { describe, expect, test } from "vitest";
import { fittedOf } from "../../../src/data/profile/profile.ts";
import { releaseStatusOf } from "../../../src/run/release/release-status.ts";
import { historyNow } from "../../../src/run/session/by-hand/holds.ts";
import type { HandTask } from "../../../src/run/session/by-hand/task.ts";
import { Driven, jobOf } from "../../kit/driven.ts";
import { DrivenRack, spots } from "../../kit/driven-rack.ts";

const taskOf = (run: Driven): HandTask | undefined => {
  const { stage } = run.session;
  return stage.kind === "by-hand" ? stage.task : undefined;
};

const JOB = jobOf([
  "inspect: outside",
  "hold-point: opening",
  "{ inspect: [base-plugs, base-fans, base-parts], id: base }",
  "{ clean: [flags, wheels], id: clean }",
  "reading: earth-continuity",
  "hold-point: closing",
  "power-up: fixture",
  "sweep: Iris",
]);

/** Answers well until this is asked. */
const until = (there: (task: HandTask | undefined, run: Driven) => boolean): Driven => {
  const run = new Driven(JOB).begin();
  for (let n = 0; n < 60 && !there(taskOf(run), run); n++) {
    const task = taskOf(run);
    if (task?.kind === "dirt") run.send({ kind: "choose", offer: 1 });
    else if (task?.kind === "reading")
      run
        .send({ kind: "filled", what: "initials", text: "EE" })
        .send({ kind: "filled", what: "value", text: "0.08" })
        .send({ kind: "judge", result: "pass" });
    else if (task && task.kind !== "hold-point") run.send({ kind: "judge", result: "pass" });
    else run.send({ kind: "confirm" });
  }
  return run;
};
const atPoint = (point: string) => (task: HandTask | undefined) => task?.kind === "hold-point" && task.point === point;
const undo = { kind: "undo" } as const;

describe("by hand", () => {
  test.each(["unplugged", "isolated", "stored-charge", "cool", "cover-removed", "nothing-loose", "covers-on"])(
    "the hold point %s is taken back at the page after it, and asked for again",
    (point) => {
      const run = until(atPoint(point)).send({ kind: "confirm" });
      const before = run.session.view.confirmed.length;
      expect(atPoint(point)(taskOf(run))).toBe(false);
      run.send(undo);
      expect(taskOf(run)).toMatchObject({
        kind: "hold-point",
        // What hangs on the isolator is asked anew from its beginning.
        point: point === "isolated" ? expect.stringMatching(/isolated|unplugged/) : point,
      });
      expect(run.session.view.confirmed.length).toBe(before - 1);
      expect(run.session.cleared).toBe(false);
    },
  );

  test("with the isolation everything that hung on it is asked for again", () => {
    const run = until(atPoint("cool")).send(undo);
    expect(taskOf(run)).toMatchObject({ point: "stored-charge" });
    const first = until(atPoint("stored-charge")).send(undo);
    expect(first.session.holds).toEqual([]);
    expect(taskOf(first)).toMatchObject({ point: "isolated" });
  });

  test("inspections that were answered together are all asked for again, and none of them counts meanwhile", () => {
    const run = until((task) => task?.kind === "looks" && task.cover === "base");
    const { length } = run.session.view.inspected;
    run.send({ kind: "judge", result: "pass" });
    expect(taskOf(run)?.kind).toBe("dirt");
    run.send(undo);
    expect(taskOf(run)).toMatchObject({ kind: "looks", cover: "base" });
    expect(run.session.view.inspected).toHaveLength(length);
    const { reasons } = releaseStatusOf(historyNow(run.session), fittedOf(run.session.job.timeline.profile));
    expect(reasons.map(({ words }) => words).join()).toContain("plugs and ribbons in the base: not inspected");
  });

  test("how dirty it is, and what was cleaned, too", () => {
    const run = until((task) => task?.kind === "cleans").send(undo);
    expect(taskOf(run)?.kind).toBe("dirt");
    run.send({ kind: "choose", offer: 2 });
    expect(taskOf(run)).toMatchObject({ kind: "cleans", dirt: "heavy" });
    run.send({ kind: "judge", result: "pass" }).send(undo);
    expect(taskOf(run)).toMatchObject({ kind: "cleans", dirt: "heavy" });
    expect(run.session.view.cleaned).toEqual([]);
  });

  test("a measurement called out of limit by a slip is no danger once it is taken back", () => {
    const run = until((task) => task?.kind === "reading");
    run.send({ kind: "filled", what: "initials", text: "EE" }).send({ kind: "judge", result: "fail" });
    expect(taskOf(run)?.kind).toBe("blocked");
    run.send(undo);
    expect(taskOf(run)).toMatchObject({ kind: "reading", reading: "earth-continuity" });
    expect(run.session.view.readings).toEqual([]);
  });

  test("once something else was answered it stands", () => {
    const run = until((task) => task?.kind === "reading");
    run.send({ kind: "filled", what: "initials", text: "EE" }).send({ kind: "judge", result: "fail" });
    run.send({ kind: "again" }).send({ kind: "name-fault", fault: "nothing" }).send(undo);
    expect(run.session.view.readings).toHaveLength(1);
    expect(taskOf(run)?.kind).toBe("blocked");
  });
});

const held = (run: { readonly effects: readonly { readonly kind: string }[] }) =>
  run.effects.findLast(({ kind }) => kind === "play" || kind === "go-dark")?.kind;

describe("the safety page", () => {
  const JUST = jobOf(["power-up: fixture", "sweep: Iris", "sweep: Pan"]);

  test.each([
    ["in the slow movement", (run: Driven) => run, 0],
    ["in the step", (run: Driven) => run.playOut(), 120],
  ])("%s: dark, every axis holds, the page is asked again, and the step begins anew", (_, go, frame) => {
    const run = go(new Driven(jobOf(["sweep: Pan"])).begin().send({ kind: "confirm" }));
    expect(held(run)).toBe("play");
    run.send(undo, frame);
    expect(held(run)).toBe("go-dark");
    expect(run.session).toMatchObject({
      cleared: false,
      slowShown: false,
      stage: { kind: "holding", point: "before-moving", next: { index: 0, frame: 0 } },
    });
    run.send({ kind: "confirm" });
    expect(run.session.stage.kind).toBe("slow-start");
    expect(run.playOut().session.stage).toMatchObject({ kind: "moving", index: 0 });
  });

  test("while it comes up the same, and the mains is asked about anew", () => {
    const run = new Driven(JUST).begin().send({ kind: "confirm" }).send(undo, 40);
    expect(held(run)).toBe("go-dark");
    expect(run.session.stage).toMatchObject({ kind: "holding", point: "before-moving" });
    expect(run.send({ kind: "confirm" }).session.stage).toMatchObject({ kind: "holding", point: "mains-on" });
  });

  test("a rack: in the slow movement, and in a step in which no letter was pressed", () => {
    const rack = { fixtures: spots(3), steps: ["sweep: Pan"] };
    for (const stage of ["slow-start", "moving"] as const) {
      const run = new DrivenRack(rack).begin().untilStage(stage);
      run.send({ kind: stage === "moving" ? "undo-differs" : "undo" }, 30);
      expect(held(run)).toBe("go-dark");
      expect(run.batch).toMatchObject({ cleared: false, stage: { kind: "holding", point: "before-moving" } });
      expect(run.untilStage("moving").batch.cleared).toBe(true);
    }
  });

  test("a rack: a letter that was pressed is taken back first", () => {
    const run = new DrivenRack({ fixtures: spots(3), steps: ["sweep: Pan"] }).begin().untilStage("moving");
    run.send({ kind: "differs", member: 0 } as never, 200).send({ kind: "undo-differs" }, 240);
    expect(run.batch.stage.kind).toBe("moving");
  });
});

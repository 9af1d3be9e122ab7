import { describe, expect, test } from "vitest";
import type { SessionEffect } from "../../../src/run/session/change.ts";
import { Driven, jobOf } from "../../kit/driven.ts";

const TWO = ["sweep: Pan", "sweep: CTO"];
const kinds = (effects: readonly SessionEffect[]) => effects.map(({ kind }) => kind);

describe("a line that is lost", () => {
  test("once more before anybody agreed: it is opened again, and nobody can agree to a line that is gone", () => {
    const run = new Driven(jobOf(TWO)).started().send({ kind: "line-lost", words: "out" }, 77);
    run.send({ kind: "line-open" }).send({ kind: "line-lost", words: "out again" });
    expect(run.effects.at(-1)).toEqual({ kind: "open-line", patience: "until-open" });
    run.send({ kind: "confirm" });
    expect(run.session).toMatchObject({ stage: { kind: "line-lost", back: false, words: "out again" } });
    run.send({ kind: "line-open" }).send({ kind: "confirm" }).playOut();
    expect(run.effects.at(-1)).toMatchObject({ kind: "play", from: 77 });
  });

  test("once more in the slow movement: the step is still one that was interrupted, and is repeated", () => {
    const run = new Driven(jobOf(TWO)).started().send({ kind: "line-lost", words: "out" }, 77);
    run.send({ kind: "line-open" }).send({ kind: "confirm" });
    expect(run.session.stage.kind).toBe("slow-start");
    run.send({ kind: "line-lost", words: "out again" }).send({ kind: "line-open" }).send({ kind: "confirm" });
    run.playOut().playOut();
    expect(run.events("step-judged").at(-1)).toMatchObject({ step: "sweep-pan", result: "repeat" });
  });

  test("is said of the step it was lost in, in the record and so on the job sheet", () => {
    const run = new Driven(jobOf(TWO)).started().send({ kind: "line-lost", words: "out" }, 77);
    run.send({ kind: "line-open" }).send({ kind: "confirm" }).playOut().playOut();
    expect(run.events("step-judged").at(-1)?.rig).toEqual({ worst_late_s: 0, dropped: 0, lost: true });
  });

  test("while a question is open: it is asked again when the line is back, and no answer is lost", () => {
    const run = new Driven(jobOf(TWO)).started().playOut();
    run.send({ kind: "symptom", symptom: { symptom: "grinds", function: "Pan" } });
    const asked = run.session.stage;
    run.send({ kind: "line-lost", words: "out" }).send({ kind: "line-open" }).send({ kind: "confirm" });
    expect(run.session.stage).toEqual(asked);
    run.send({ kind: "confirm" });
    expect(run.results()["sweep-pan"]).toBe("fail");
  });

  test("while what comes next is asked: what was judged stays judged", () => {
    const run = new Driven(jobOf(["sweep: Pan"])).started().send({ kind: "press" }, 100).playOut();
    run.send({ kind: "symptom", symptom: { symptom: "jerks", function: "Pan" } }).send({ kind: "confirm" });
    expect(run.session.stage.kind).toBe("what-next");
    const before = run.results();
    run.send({ kind: "line-lost", words: "out" }).send({ kind: "line-open" }).send({ kind: "confirm" });
    expect(run.session.stage.kind).toBe("what-next");
    expect(run.results()).toEqual(before);
  });
});

describe("a computer that stood still", () => {
  test("in a movement: dark and still, said, kept; the area is confirmed anew and the step starts over, slowly first", () => {
    const run = new Driven(jobOf(TWO)).started().send({ kind: "stood-still", time: 723.4 }, 77);
    const words = "The computer stood still for 723 s; no key was heard meanwhile.";
    expect(run.session).toMatchObject({ stage: { kind: "paused", why: "away" }, trouble: words });
    expect(kinds(run.effects).slice(-3)).toEqual(["write", "go-dark", "say"]);
    expect(run.events("course-changed")).toEqual([
      expect.objectContaining({ what: "away", frame: 77, step: "sweep-pan", detail: words }),
    ]);
    run.send({ kind: "confirm" });
    expect(run.session).toMatchObject({ stage: { kind: "holding", point: "before-moving" }, trouble: undefined });
    run.send({ kind: "confirm" }).playOut();
    expect(run.effects.at(-1)).toMatchObject({ kind: "play", from: 0 });
    expect(run.session.stage).toMatchObject({ kind: "moving", index: 0, attempt: 2 });
  });

  test("in the slow movement: that is shown again", () => {
    const run = new Driven(jobOf(TWO)).begin().send({ kind: "confirm" });
    expect(run.session.stage.kind).toBe("slow-start");
    run.send({ kind: "stood-still", time: 5 }).playOut();
    expect(run.session.stage.kind, "the movement that was interrupted is over").toBe("paused");
    run.send({ kind: "confirm" }).send({ kind: "confirm" });
    expect(run.session.stage.kind).toBe("slow-start");
  });

  test("at a question: it stays open, and before anything moves again the area is asked about", () => {
    const run = new Driven(jobOf(TWO)).started().playOut();
    run.send({ kind: "stood-still", time: 5 }).send({ kind: "judge", result: "pass" });
    expect(run.results()["sweep-pan"]).toBe("pass");
    expect(run.session.stage).toMatchObject({ kind: "holding", point: "before-moving" });
  });

  test("when all is over it changes nothing", () => {
    const run = new Driven(jobOf(TWO)).started().send({ kind: "stop" });
    const before = run.session;
    run.send({ kind: "stood-still", time: 5 });
    expect(run.session).toEqual({ ...before, cleared: false, slowShown: false });
  });
});

describe("a step in which the rig misbehaved is never a pass or a fail by itself", () => {
  test.each([
    { step: "sweep: Pan", repeated: true, because: "a jerk may be the rig's" },
    { step: "power-up: fixture", repeated: false, because: "homing it is deaf to frames" },
  ])("$step with a frame missing: $because", ({ step, repeated }) => {
    const run = new Driven(jobOf([step])).started().playOut({ worstLate: 0.05, dropped: 1 });
    expect(run.events("step-judged").map(({ result }) => result)).toEqual(repeated ? ["repeat"] : []);
    if (repeated) expect(run.session.stage).toMatchObject({ kind: "moving", attempt: 2 });
  });
});

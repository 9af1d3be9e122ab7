import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { secondsOf } from "../../../src/domain/units.ts";
import { viewOf } from "../../../src/run/events/view.ts";
import type { Input } from "../../../src/run/machine/input.ts";
import type { SessionEffect } from "../../../src/run/session/change.ts";
import { questionOf } from "../../../src/run/session/session.ts";
import { step } from "../../../src/run/session/step.ts";
import { Driven, jobOf } from "../../kit/driven.ts";

const TWO = ["sweep: Pan", "sweep: Iris"];

describe("before anything moves", () => {
  test("the area is confirmed, then a slow movement is announced, then the first step plays", () => {
    const run = new Driven(jobOf(TWO)).begin();
    expect(run.session.stage).toMatchObject({ kind: "holding", point: "before-moving" });
    expect(run.effects.some(({ kind }) => kind === "play")).toBe(false);
    run.send({ kind: "confirm" });
    expect(run.session.stage.kind).toBe("slow-start");
    expect(run.effects).toContainEqual({ kind: "say", words: "Slow movement first. Stand clear." });
    run.playOut();
    expect(run.session.stage).toMatchObject({ kind: "moving", index: 0, attempt: 1 });
  });

  test("a watched power-up waits for the hand on the mains", () => {
    const run = new Driven(jobOf(["power-up: fixture", ...TWO])).begin();
    expect(run.session).toMatchObject({ cleared: false, stage: { kind: "holding", point: "mains-on" } });
    run.send({ kind: "confirm" });
    expect(run.events("hold-confirmed").map(({ point }) => point)).toEqual(["before-moving", "mains-on"]);
    expect(run.effects).toContainEqual({ kind: "mains-on" });
    expect(run.session.stage).toMatchObject({ kind: "moving", index: 0 });
  });

  test("a line that does not open ends the run before anything is asked", () => {
    const run = new Driven(jobOf(TWO)).send({ kind: "begin" }).send({ kind: "line-lost", words: "no such port" });
    expect(run.session).toMatchObject({ stage: { kind: "finished", how: "failed" }, trouble: "no such port" });
  });
});

describe("answers", () => {
  test("silence, answered at the step, is a pass", () => {
    const run = new Driven(jobOf(TWO))
      .started()
      .playOut()
      .send({ kind: "confirm" })
      .playOut()
      .send({ kind: "judge", result: "pass" });
    expect(run.results()).toEqual({ "sweep-pan": "pass", "sweep-iris": "pass" });
    expect(run.session.stage).toEqual({ kind: "finished", how: "finished" });
    expect(run.events("step-judged").map(({ watched }) => watched)).toEqual(["attended", "attended"]);
  });

  test("named symptoms are a fail, a press that names none is unsure", () => {
    const run = new Driven(jobOf(TWO)).started().send({ kind: "press" }, 90).playOut();
    run.send({ kind: "symptom", symptom: { symptom: "grinds", function: "Pan" } });
    run.send({ kind: "symptom", symptom: { symptom: "error-shown" } });
    run.send({ kind: "confirm" });
    run.send({ kind: "press" }, 30).playOut().send({ kind: "confirm" });
    expect(run.results()).toEqual({ "sweep-pan": "fail", "sweep-iris": "unsure" });
    expect(run.events("step-judged")[0]?.symptoms).toEqual([
      { symptom: "grinds", function: "Pan" },
      { symptom: "error-shown" },
    ]);
  });

  test("naming a symptom twice takes it back", () => {
    const run = new Driven(jobOf(TWO)).started().playOut();
    const grinds = { kind: "symptom", symptom: { symptom: "grinds", function: "Pan" } } as const;
    run.send(grinds).send(grinds).send({ kind: "confirm" });
    expect(run.results()["sweep-pan"]).toBe("pass");
  });

  test("a press carries its frame and its time", () => {
    const run = new Driven(jobOf(TWO)).started().send({ kind: "press" }, 90);
    expect(run.events("pressed")).toEqual([
      { kind: "pressed", step: "sweep-pan", attempt: 1, frame: 90, after_s: 2.25 },
    ]);
  });

  test("undo takes back the last symptom, then the judgement before, by a correction", () => {
    const run = new Driven(jobOf(TWO)).started().playOut().send({ kind: "judge", result: "pass" }).playOut();
    run.send({ kind: "symptom", symptom: { symptom: "grinds", function: "Iris" } }).send({ kind: "undo" });
    expect(run.session.stage).toMatchObject({ kind: "asking", index: 1, symptoms: [] });
    run.send({ kind: "undo" });
    expect(run.session.stage).toMatchObject({ kind: "asking", index: 0 });
    expect(run.events("step-corrected")).toEqual([{ kind: "step-corrected", step: "sweep-pan", attempt: 1 }]);
    run.send({ kind: "judge", result: "fail" });
    expect(run.session.stage).toMatchObject({ kind: "asking", index: 1 });
    run.send({ kind: "judge", result: "pass" });
    expect(run.results()).toEqual({ "sweep-pan": "fail", "sweep-iris": "pass" });
  });

  test("an answer to a question that is over does nothing but show that somebody is there", () => {
    const run = new Driven(jobOf(TWO)).started();
    const stale = questionOf(run.session) ?? "";
    run.playOut().send({ kind: "judge", result: "pass" });
    const before = run.session;
    run.send({ kind: "press", answers: stale }, 3);
    expect({ ...run.session, signs: 0, commanded: 0 }).toEqual({ ...before, signs: 0, commanded: 0 });
    expect(run.session.signs.length).toBe(before.signs.length + 1);
  });
});

describe("hands-off", () => {
  const handsOff = () => new Driven(jobOf(TWO, { mode: "hands-off" })).started();

  test("it goes on by itself; at the end silence is confirmed and counts as a pass", () => {
    const run = handsOff().playOut().send({ kind: "here" }).playOut();
    expect(run.session.stage).toEqual({ kind: "confirming", indexes: [0, 1] });
    run.send({ kind: "confirm" });
    expect(run.results()).toEqual({ "sweep-pan": "pass", "sweep-iris": "pass" });
    expect(run.events("step-judged").map(({ watched }) => watched)).toEqual(["confirmed", "confirmed"]);
  });

  test("silence that nobody confirms is not watched", () => {
    const run = handsOff().playOut().playOut().send({ kind: "decline" });
    expect(run.results()).toEqual({ "sweep-pan": "not-watched", "sweep-iris": "not-watched" });
  });

  test("a minute without a sign of life is not watching, whatever is confirmed afterwards", () => {
    const long = new Driven(
      jobOf(["{ sweep: Pan, seconds: 40, passes: 2 }", "sweep: Iris"], { mode: "hands-off" }),
    ).started();
    long.playOut().send({ kind: "here" }).playOut().send({ kind: "confirm" });
    expect(long.results()).toEqual({ "sweep-pan": "not-watched", "sweep-iris": "pass" });
  });

  test("two hundred seconds of movement are as much as is asked about together; a second less goes on", () => {
    const stageAfter = (seconds: number) => {
      const run = new Driven(jobOf(TWO, { mode: "hands-off" })).started();
      run.at += seconds - secondsOf(run.session.job.timeline.steps[0]?.frames ?? 0);
      return run.playOut().session.stage.kind;
    };
    expect([stageAfter(199), stageAfter(200)]).toEqual(["moving", "confirming"]);
  });

  test("only pressed steps are asked about, the silent ones are confirmed together", () => {
    const run = handsOff().send({ kind: "press" }, 80).playOut().playOut();
    expect(run.session.stage).toMatchObject({ kind: "asking", index: 0 });
    run.send({ kind: "judge", result: "fail" });
    expect(run.session.stage).toEqual({ kind: "confirming", indexes: [1] });
  });

  test("a press in the first moments of a step, beam still shut, belongs to the step before", () => {
    const run = handsOff().playOut().send({ kind: "press" }, 3);
    expect(run.events("pressed")[0]).toMatchObject({ step: "sweep-pan" });
  });

  /** Switched on, as far as the question after the first playing. */
  const powered = (...steps: readonly string[]): Driven =>
    new Driven(jobOf(["power-up: fixture", ...steps], { mode: "hands-off" }))
      .begin()
      .send({ kind: "confirm" })
      .playOut();

  test("coming up is asked about by itself, since it is longer than anybody watches without a key", () => {
    const run = powered(...TWO);
    expect(run.session.stage).toMatchObject({ kind: "asking", index: 0 });
    run.send({ kind: "confirm" }).playOut();
    expect(run.session.stage).toMatchObject({ kind: "moving", index: 1 });
  });

  const up = () => powered("identify: fixture", ...TWO).playOut();
  test("whether it hears is seen at once after it came up, and one answer says that nothing was wrong in either", () => {
    expect(up().playOut().session.stage).toMatchObject({ kind: "asking", index: 0 });
    const good = up().playOut().send({ kind: "confirm" });
    expect(good.results()).toMatchObject({ "power-up-fixture": "pass", "identify-fixture": "pass" });
    expect(good.events("step-judged").map(({ watched }) => watched)).toEqual(["attended", "attended"]);
  });

  test("what went wrong in coming up is no answer for the other, and a press in the other asks about each", () => {
    const failed = up().playOut().send({ kind: "judge", result: "fail" });
    expect(failed.results()).toMatchObject({ "power-up-fixture": "fail", "identify-fixture": "open" });
    expect(failed.session.stage).toEqual({ kind: "confirming", indexes: [1] });
    const pressed = up().send({ kind: "press" }, 100).playOut().send({ kind: "confirm" });
    expect(pressed.results()).toMatchObject({ "power-up-fixture": "pass", "identify-fixture": "open" });
    expect(pressed.session.stage).toMatchObject({ kind: "asking", index: 1 });
  });

  test("one step of a silent group was not as it should be: it is asked about, and the others are confirmed after it", () => {
    const run = new Driven(jobOf(TWO, { mode: "hands-off" })).started().playOut().playOut();
    expect(run.session.stage).toEqual({ kind: "confirming", indexes: [0, 1] });
    run.send({ kind: "choose", offer: 1 });
    expect(run.session.stage).toMatchObject({ kind: "asking", index: 1 });
    run.send({ kind: "judge", result: "fail" });
    expect(run.session.stage).toEqual({ kind: "confirming", indexes: [0] });
  });

  const SOAK = "soak: [Pan, Tilt]";
  test("what came before a soak is answered for before it begins, and the soak by itself after it", () => {
    const run = new Driven(jobOf([...TWO.slice(0, 1), SOAK, ...TWO.slice(1)], { mode: "hands-off" })).started();
    run.playOut();
    expect(run.session.stage).toEqual({ kind: "confirming", indexes: [0] });
    run.send({ kind: "confirm" });
    expect(run.session.stage).toMatchObject({ kind: "moving", index: 1 });
    run.playOut();
    expect(run.session.stage).toMatchObject({ kind: "asking", index: 1 });
  });

  test("while it soaks it can be said how dirty it came back; otherwise a digit says nothing while it moves", () => {
    const clean = { opening: "hold-point: opening", clean: "clean: due", closing: "hold-point: closing" };
    const steps = [SOAK, ...Object.values(clean), "{ power-up: fixture, id: last }"];
    const run = new Driven(jobOf(steps, { mode: "hands-off" })).started();
    run.send({ kind: "choose", offer: 0 }).send({ kind: "choose", offer: 2 });
    expect(run.events("dirt-judged")).toEqual([{ kind: "dirt-judged", dirt: "light" }]);
    const other = new Driven(jobOf([TWO[0] ?? "", ...steps.slice(1)], { mode: "hands-off" })).started();
    expect(other.send({ kind: "choose", offer: 0 }).events("dirt-judged")).toEqual([]);
  });
});

describe("the course of a run", () => {
  test("a halt is dark; whoever halts may be at the head, so the area is asked about, then it goes on at the same frame", () => {
    const run = new Driven(jobOf(TWO)).started().send({ kind: "freeze" }, 55);
    expect(run.effects.at(-1)).toEqual({ kind: "go-dark" });
    run.send({ kind: "go-on" });
    expect(run.session.stage).toMatchObject({ kind: "holding", point: "before-moving" });
    run.send({ kind: "confirm" }).playOut();
    expect(run.effects.at(-1)).toMatchObject({ kind: "play", from: 55 });
    expect(run.session.stage).toMatchObject({ kind: "moving", attempt: 1 });
  });

  test("away goes dark; back again everything is confirmed anew and the step starts over", () => {
    const run = new Driven(jobOf(TWO)).started().send({ kind: "away" }, 55);
    expect(run.effects.at(-1)).toEqual({ kind: "go-dark" });
    run.send({ kind: "go-on" });
    expect(run.session.stage).toMatchObject({ kind: "holding", point: "before-moving" });
    run.send({ kind: "confirm" }).playOut();
    expect(run.effects.at(-1)).toMatchObject({ kind: "play", from: 0 });
    expect(run.session.stage).toMatchObject({ kind: "moving", attempt: 2 });
  });

  test("slower is another compiled step, told in the record", () => {
    const run = new Driven(jobOf(TWO)).started().send({ kind: "slower" });
    expect(run.events("step-started").at(-1)).toMatchObject({ step: "sweep-pan", attempt: 2, pace: 0.5 });
    const plays = run.effects.filter((effect) => effect.kind === "play" && effect.step.id === "sweep-pan");
    expect(plays.map((effect) => (effect.kind === "play" ? effect.step.pace : 0))).toEqual([1, 0.5]);
  });

  test("back plays the step before again, then the one it came from", () => {
    const run = new Driven(jobOf(TWO))
      .started()
      .playOut()
      .send({ kind: "judge", result: "pass" })
      .send({ kind: "back" });
    expect(run.session.stage).toMatchObject({ kind: "moving", index: 0, attempt: 2 });
    run.playOut().send({ kind: "judge", result: "fail" });
    expect(run.session.stage).toMatchObject({ kind: "moving", index: 1 });
  });

  test("back from an open question: the step before plays and is asked about, then the one that was left", () => {
    const run = new Driven(jobOf(TWO)).started().playOut().send({ kind: "judge", result: "pass" }).playOut();
    expect(run.session.stage).toMatchObject({ kind: "asking", index: 1 });
    run.send({ kind: "back" });
    expect(run.session.stage).toMatchObject({ kind: "moving", index: 0, attempt: 2 });
    run.playOut();
    expect(run.session.stage).toMatchObject({ kind: "asking", index: 0 });
    run.send({ kind: "judge", result: "fail" });
    expect(run.session.stage).toMatchObject({ kind: "moving", index: 1, attempt: 2 });
  });

  test("stop goes dark where it stands, tells the journal, and ends", () => {
    const run = new Driven(jobOf(TWO)).started().send({ kind: "stop" }, 20);
    expect(run.effects.slice(-4).map(({ kind }) => kind)).toEqual(["write", "go-dark", "write", "end"]);
    expect(run.events("run-closed")).toEqual([{ kind: "run-closed", how: "stopped" }]);
  });

  test.each(["SIGINT", "SIGTERM", "SIGHUP"])("%s ends it the same way", (name) => {
    const run = new Driven(jobOf(TWO)).started().send({ kind: "signal", name });
    expect(run.session.stage).toEqual({ kind: "finished", how: "stopped" });
    expect(run.effects).toContainEqual({ kind: "go-dark" });
  });
});

describe("when the rig misbehaves", () => {
  test.each([
    { rig: { worstLate: 0.031, dropped: 0 }, because: "a frame 31 ms late looks like a jerk" },
    { rig: { worstLate: 0.025, dropped: 0 }, because: "a frame late by a whole frame looks like a jerk" },
    { rig: { worstLate: 0, dropped: 1 }, because: "a missing frame looks like a jerk" },
  ])("$because: the step is repeated, never a pass or a fail", ({ rig }) => {
    const run = new Driven(jobOf(TWO)).started().playOut(rig);
    expect(run.events("step-judged").at(-1)).toMatchObject({ result: "repeat", watched: "no" });
    expect(run.session.stage).toMatchObject({ kind: "moving", index: 0, attempt: 2 });
    run.playOut().send({ kind: "judge", result: "pass" });
    expect(run.results()["sweep-pan"]).toBe("pass");
  });

  test("less than a frame late is seen by nobody: the step is judged", () => {
    const run = new Driven(jobOf(TWO)).started().playOut({ worstLate: 0.0249, dropped: 0 });
    expect(run.session.stage).toMatchObject({ kind: "asking", index: 0 });
  });

  test("after three late attempts it stays marked to be repeated and the run goes on", () => {
    const late = { worstLate: 0.5, dropped: 9 };
    const run = new Driven(jobOf(TWO)).started().playOut(late).playOut(late).playOut(late);
    expect(run.results()["sweep-pan"]).toBe("repeat");
    expect(run.session.stage).toMatchObject({ kind: "moving", index: 1 });
  });

  test("a lost line pauses, says so, reopens, waits for a person, moves slowly, and goes on from the same frame", () => {
    const run = new Driven(jobOf(TWO)).started().send({ kind: "line-lost", words: "the cable is out" }, 77);
    expect(run.session).toMatchObject({ stage: { kind: "line-lost", back: false }, trouble: "the cable is out" });
    expect(run.effects).toContainEqual({ kind: "say", words: "The DMX line is lost. the cable is out" });
    expect(run.effects.at(-1)).toEqual({ kind: "open-line", patience: "until-open" });
    run.send({ kind: "confirm" });
    expect(run.session.stage.kind, "nobody can agree before it is back").toBe("line-lost");
    run.send({ kind: "line-open" }).send({ kind: "confirm" });
    expect(run.session.stage.kind).toBe("slow-start");
    run.playOut();
    expect(run.effects.at(-1)).toMatchObject({ kind: "play", from: 77 });
    run.playOut();
    expect(run.events("step-judged").at(-1)).toMatchObject({ step: "sweep-pan", result: "repeat" });
  });

  test("when the journal fails nothing more is judged: rest, said, ended", () => {
    const run = new Driven(jobOf(TWO)).started().send({ kind: "journal-failed", words: "the disk is full" });
    expect(run.session).toMatchObject({ stage: { kind: "finished", how: "failed" }, trouble: "the disk is full" });
    expect(run.effects).toContainEqual({ kind: "go-dark" });
  });
});

test("a result is shown as kept only once that many events are on disk", () => {
  const run = new Driven(jobOf(TWO)).started().playOut().send({ kind: "judge", result: "pass" });
  const { judgedBy } = run.session.view.steps[0]!;
  expect(run.session.stored).toBeLessThan(judgedBy);
  run.send({ kind: "stored", count: judgedBy });
  expect(run.session.stored).toBe(judgedBy);
});

test("an unfinished run goes on at its open step, from its events alone", () => {
  const job = jobOf(["sweep: Pan", "sweep: CTO", "sweep: Iris"]);
  const first = new Driven(job).started().playOut().send({ kind: "judge", result: "fail" });
  const again = new Driven(job, first.bodies).started();
  expect(again.session.stage).toMatchObject({ kind: "moving", index: 1 });
  expect(again.events("run-opened")).toEqual([]);
  expect(again.results()["sweep-pan"]).toBe("fail");
});

const anyInput = fc.oneof<fc.MaybeWeightedArbitrary<unknown>[]>(
  fc
    .constantFrom(
      "begin",
      "press",
      "again",
      "stop",
      "confirm",
      "decline",
      "undo",
      "freeze",
      "away",
      "go-on",
      "slower",
      "back",
      "here",
      "line-open",
    )
    .map((kind) => ({ kind }) as never),
  fc.constantFrom("pass", "fail", "unsure", "not-asked").map((result) => ({ kind: "judge", result }) as never),
  fc.constant({ kind: "symptom", symptom: { symptom: "grinds", function: "Pan" } } as never),
  fc.record({
    kind: fc.constant("played"),
    rig: fc.record({ worstLate: fc.constantFrom(0, 0.04), dropped: fc.constantFrom(0, 0, 0, 2) }),
  }) as never,
  fc.constant({ kind: "line-lost", words: "gone" } as never),
) as fc.Arbitrary<Omit<Input, "answers">>;

/** Whether an event clears the area or breaks that clearance. */
const clearance = (effect: SessionEffect): "cleared" | "broken" | undefined => {
  if (effect.kind !== "write") return undefined;
  if (effect.body.kind === "hold-confirmed") return "cleared";
  if (effect.body.kind !== "course-changed") return undefined;
  const { what } = effect.body;
  return what === "resumed" ? "cleared" : what === "away" || what === "line-lost" ? "broken" : undefined;
};

describe("whatever happens, in whatever order", () => {
  const many = fc.array(fc.tuple(anyInput, fc.nat(400)), { maxLength: 60 });
  const played = (inputs: readonly (readonly [Omit<Input, "answers">, number])[], mode: "attended" | "hands-off") => {
    const run = new Driven(jobOf(TWO, { mode })).started();
    for (const [input, frame] of inputs) {
      run.at += 1;
      run.send(input as Input, frame);
    }
    return run;
  };

  test("nothing plays before the area was confirmed since the last break", () => {
    fc.assert(
      fc.property(many, fc.constantFrom("attended" as const, "hands-off" as const), (inputs, mode) => {
        const run = played(inputs, mode);
        const breaks = run.effects.map(clearance);
        for (const [index, effect] of run.effects.entries())
          if (effect.kind === "play")
            expect(breaks.slice(0, index).findLast((one) => one !== undefined)).toBe("cleared");
      }),
    );
  });

  test("what the session knows is what its events say", () => {
    fc.assert(
      fc.property(many, (inputs) => {
        const run = played(inputs, "attended");
        expect(viewOf(run.bodies)).toEqual(run.session.view);
      }),
    );
  });

  test("once it is over nothing more is asked of the world", () => {
    fc.assert(
      fc.property(many, fc.constantFrom("attended" as const, "hands-off" as const), (inputs, mode) => {
        const run = played(inputs, mode).send({ kind: "stop" });
        const before = run.effects.length;
        for (const [input, frame] of inputs) run.send(input as Input, frame);
        expect(run.effects.slice(before).filter(({ kind }) => kind === "play")).toEqual([]);
      }),
    );
  });

  test("step is pure: the same session and input give the same change", () => {
    const run = new Driven(jobOf(TWO)).started();
    const input = { kind: "press", answers: questionOf(run.session) ?? "", at: 9, frame: 70, after: 1.75 } as const;
    expect(step(run.session, input)).toEqual(step(run.session, input));
  });
});

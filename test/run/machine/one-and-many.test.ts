import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type Batch,
  memberAt,
  onlySession,
  openBatch,
  rackOfOne,
  rackQuestionOf,
} from "../../../src/run/batch/batch.ts";
import type { RackEffect } from "../../../src/run/batch/change.ts";
import { stepRack } from "../../../src/run/batch/step.ts";
import type { Input, Stamped } from "../../../src/run/machine/input.ts";
import { STAGES } from "../../../src/run/machine/stages.ts";
import type { SessionEffect } from "../../../src/run/session/change.ts";
import { openSession, questionOf } from "../../../src/run/session/session.ts";
import { step } from "../../../src/run/session/step.ts";
import { Driven, jobOf } from "../../kit/driven.ts";
import { DrivenRack, rackJobOf, spots } from "../../kit/driven-rack.ts";
import { movedBetween } from "../../kit/held.ts";
import { Wired } from "../../kit/wired.ts";

const STEPS = ["{ sweep: Pan, seconds: 3, passes: 2 }", "{ sweep: Tilt, seconds: 3, passes: 2 }"];
type Said = Readonly<Record<string, unknown>> & { readonly kind: string };
const one = () => {
  const run = new Driven(jobOf(STEPS)).begin();
  return { send: (input: Said) => run.send(input as Input), state: () => run.session, effects: run.effects };
};
const rackOfIt = () => {
  const run = new DrivenRack(rackOfOne(openSession(jobOf(STEPS), "KM"), "r")).begin();
  return { send: (input: Said) => run.send(input), state: () => onlySession(run.batch), effects: run.effects };
};
const many = () => {
  const run = new DrivenRack({ fixtures: spots(2), steps: STEPS }).begin();
  return { send: (input: Said) => run.send(input), state: () => run.batch, effects: run.effects };
};

/** Whatever is true of one fixture's run here is true of a rack's, by the same code. */
describe.each([
  ["one fixture", one],
  ["one fixture, as a rack of one", rackOfIt],
  ["a rack", many],
])("%s", (_, begun) => {
  const moving = () => {
    const run = begun();
    for (let n = 0; run.state().stage.kind !== "moving"; n += 1) {
      if (n > 9) throw new Error("it never moves");
      run.send(run.state().stage.kind === "slow-start" ? { kind: "played" } : { kind: "confirm" });
    }
    return run;
  };
  const since = (run: ReturnType<typeof begun>, act: () => void) => {
    const before = run.effects.length;
    act();
    return run.effects.slice(before).filter(({ kind }) => kind !== "write");
  };

  test("a journal that fails ends it, dark, and says so", () => {
    const run = moving();
    const effects = since(run, () => run.send({ kind: "journal-failed", words: "disk full" }));
    expect(effects).toEqual([{ kind: "go-dark" }, { kind: "say", words: "disk full" }, { kind: "end" }]);
    expect(run.state()).toMatchObject({ stage: { kind: "finished", how: "failed" }, trouble: "disk full" });
  });

  test("two seconds in which nothing was sent: dark, and the area is asked about before anything moves again", () => {
    const run = moving();
    const effects = since(run, () => run.send({ kind: "stood-still", time: 2 }));
    expect(effects).toEqual([
      { kind: "go-dark" },
      { kind: "say", words: "The computer stood still for 2 s; no key was heard meanwhile." },
    ]);
    expect(run.state()).toMatchObject({ stage: { kind: "paused" }, cleared: false, slowShown: false });
  });

  test("a line that is lost is waited for; back and lost again before anybody agreed it is waited for again", () => {
    const run = moving();
    const lost = { kind: "line-lost", universe: 1, words: "unplugged" };
    run.send(lost);
    expect(run.state()).toMatchObject({ stage: { kind: "line-lost", back: false }, cleared: false });
    run.send({ kind: "line-open", universe: 1 });
    expect(run.state().stage).toMatchObject({ kind: "line-lost", back: true });
    const effects = since(run, () => run.send({ ...lost, words: "again" }));
    expect(run.state().stage).toMatchObject({ kind: "line-lost", back: false, words: "again" });
    expect(effects.map(({ kind }) => kind).toSorted()).toEqual(["go-dark", "open-line", "say"]);
  });

  test("initials that nobody can read back are taken from nobody; of others both spellings are one", () => {
    const run = begun();
    run.send({ kind: "person", initials: "\u0007" });
    expect(run.state()).toMatchObject({ person: "KM", trouble: expect.stringContaining("cannot be used") });
    run.send({ kind: "person", initials: " jb " });
    expect(run.state().person).toBe("jb");
  });

  test("stopped while it moves: dark first, the record is closed, then it ends", () => {
    const run = moving();
    const effects = since(run, () => run.send({ kind: "stop" }));
    expect(effects).toEqual([{ kind: "go-dark" }, { kind: "end" }]);
    expect(run.effects.at(-2)).toMatchObject({ kind: "write", body: { kind: "run-closed", how: "stopped" } });
  });
});

test.each([
  { stage: "setting-found", because: "at its panel a setting is put right" },
  { stage: "own-address", because: "at its panel an address is set, or cables are pulled" },
  { stage: "what-next", because: "what is offered is walked up to" },
  { stage: "by-hand", because: "it is worked on" },
  { stage: "between", because: "the rack is walked along between the group and the suspects" },
  { stage: "paused", because: "nobody knows for how long it is halted, or what for" },
  { stage: "line-lost", because: "cables are looked at" },
  { stage: "other-interface", because: "cables are changed" },
  { stage: "finished", because: "it is over, and what comes next begins anew" },
] as const)("hands may be at a fixture while $stage: $because", ({ stage }) => {
  expect(STAGES[stage].people).toBe("hands");
});

test("what moves halts when nothing was sent", () => {
  const moves = Object.entries(STAGES).filter(([kind, { people }]) => people === "moves" && kind !== "alone");
  expect(moves.map(([, { standstill }]) => standstill)).toEqual(moves.map(() => "halt"));
});

/** When its step is over pan stands at the other end of its travel. */
const ENDS_ELSEWHERE = ["{ sweep: Pan, seconds: 0.5, passes: 1 }", "{ sweep: Tilt, seconds: 0.5, passes: 1 }"];
const rackOfTwo = (): Batch => {
  const { plan, members } = rackJobOf({ fixtures: spots(2), steps: ENDS_ELSEWHERE });
  return openBatch(plan, members, "KM");
};

test.each([
  { run: "one fixture", opening: () => rackOfOne(openSession(jobOf(ENDS_ELSEWHERE), "KM"), "r"), asked: "asking" },
  { run: "a rack", opening: rackOfTwo, asked: "which" },
])("$run: answered after a minute, the slow movement begins where the step has ended, and nothing jumps", (row) => {
  const wire = new Wired(row.opening());
  const { profile } = memberAt(wire.batch, 0).session.job.timeline;
  const stage = () => (wire.batch.stage.kind === "alone" ? onlySession(wire.batch).stage : wire.batch.stage).kind;
  const say = (said: Said) => wire.send({ answers: rackQuestionOf(wire.batch) ?? "", ...said } as Said);
  const until = (kind: string) => {
    for (let n = 0; stage() !== kind; n += 1) {
      if (n > 4000) throw new Error(`it stands at ${stage()} and never comes to ${kind}`);
      wire.pass(1);
    }
  };
  say({ kind: "begin" });
  say({ kind: "line-open", universe: 1 });
  say({ kind: "confirm" });
  until("moving");
  wire.pass(60);
  say({ kind: "press" });
  until(row.asked);
  wire.at += 61;
  say(row.asked === "asking" ? { kind: "judge", result: "pass" } : { kind: "confirm" });
  expect(stage()).toBe("holding");
  const before = wire.pass(1).frames.at(-1);
  say({ kind: "confirm" });
  expect(stage()).toBe("slow-start");
  const after = wire.pass(1).frames.at(-1);
  expect(movedBetween(profile, before?.levels, after?.levels)).toEqual([]);
});

/** What may happen to a run besides what leads it on. */
const HAPPENS: readonly Said[] = [
  ...["press", "confirm", "undo", "again", "slower", "back", "freeze", "away", "go-on", "decline", "here"].map(
    (kind) => ({ kind }),
  ),
  { kind: "note", text: "it squeaks" },
  { kind: "photo", file: "a.jpg" },
  { kind: "person", initials: "jb" },
  { kind: "played", rig: { worstLate: 0.2, dropped: 3 } },
  { kind: "line-lost", universe: 1, words: "unplugged" },
  { kind: "line-open", universe: 1 },
  { kind: "interface-met", universe: 1, identity: { number: "7", usb: "1-2" } },
  { kind: "stranger", universe: 1, identity: { number: "8", usb: "1-2" }, words: "another number" },
  { kind: "stood-still", time: 2 },
  { kind: "stored", run: "r", count: 3 },
  { kind: "remark", words: "frames come late" },
  { kind: "own-test-over", run: "r", words: "over" },
];

const LEADS_ON: readonly Said[] = [
  { kind: "confirm" },
  { kind: "played", rig: { worstLate: 0, dropped: 0 } },
  { kind: "judge", result: "pass" },
];
const ENDS: readonly Said[] = [
  { kind: "stop" },
  { kind: "signal", name: "SIGTERM" },
  { kind: "journal-failed", words: "disk full" },
];
const anything = fc.oneof(
  { weight: 12, arbitrary: fc.constantFrom(...LEADS_ON) },
  { weight: 8, arbitrary: fc.constantFrom(...HAPPENS) },
  { weight: 1, arbitrary: fc.constantFrom(...ENDS) },
);

test("one fixture is a rack of one: whatever happens, its run is the same as by itself, and so is all that it writes", () => {
  const jobs = { attended: jobOf(STEPS), "hands-off": jobOf(STEPS, { mode: "hands-off" }) };
  const moment = fc.record({
    said: anything,
    after: fc.constantFrom(0, 0.5, 3, 61),
    frame: fc.nat(200),
  });
  fc.assert(
    fc.property(
      fc.constantFrom("attended", "hands-off"),
      fc.array(moment, { minLength: 15, maxLength: 40, size: "max" }),
      (mode, moments) => {
        let alone = openSession(jobs[mode], "KM");
        let rack = rackOfOne(alone, "r");
        let at = 0;
        const begun = { said: { kind: "begin" }, after: 0, frame: 0 };
        const open = { said: { kind: "line-open", universe: 1 }, after: 0, frame: 0 };
        for (const { said, after, frame } of [begun, open, ...moments]) {
          at += after;
          const stamped = (question: string | undefined) =>
            ({ answers: question ?? "", ...said, at, frame, after: frame / 40 }) as Stamped;
          const [one, effects] = step(alone, stamped(questionOf(alone)));
          const [many, lifted] = stepRack(rack, stamped(rackQuestionOf(rack)));
          [alone, rack] = [one, many];
          expect(onlySession(rack)).toEqual(alone);
          expect(written(lifted)).toEqual(written(effects));
          expect(lifted.map(({ kind }) => kind)).toEqual(
            effects.map(({ kind }) => (kind === "mains-on" ? "by-hand" : kind)),
          );
        }
      },
    ),
  );
});

const written = (effects: readonly (SessionEffect | RackEffect)[]) =>
  effects.flatMap((effect) => (effect.kind === "write" ? [{ body: effect.body, count: effect.count }] : []));

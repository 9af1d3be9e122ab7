import { describe, expect, test } from "vitest";
import { Driven, jobOf } from "../../kit/driven.ts";

const OLD = { number: "7", usb: "" };
const NEW = { number: "8", usb: "" };
const WORDS = "the interface on /dev/ttyUSB0 may be another: it says it is number 8; the one before was number 7";
const stranger = { kind: "stranger", identity: NEW, words: WORDS } as const;

const atWork = () => {
  const run = new Driven(jobOf(["sweep: Pan", "sweep: CTO"])).send({ kind: "begin" });
  run.send({ kind: "interface-met", identity: OLD }).send({ kind: "line-open" });
  run.send({ kind: "confirm" }).playOut();
  return run;
};

describe("another interface where the one before was", () => {
  test("which interface it was is written with the run, once", () => {
    const run = atWork().send({ kind: "line-lost", words: "out" }, 77);
    expect(run.effects.at(-1)).toEqual({ kind: "open-line", patience: "until-open", known: OLD });
    run.send({ kind: "interface-met", identity: OLD }).send({ kind: "line-open" });
    expect(run.events("interface-met")).toEqual([{ kind: "interface-met", universe: 1, identity: OLD }]);
  });

  test("nothing is sent until a person agrees; then it is opened to that one alone, and goes on as after any loss", () => {
    const run = atWork().send({ kind: "line-lost", words: "out" }, 77).send(stranger);
    expect(run.session.stage).toMatchObject({ kind: "other-interface", words: WORDS, identity: NEW });
    const before = run.effects.length;
    for (const kind of ["press", "decline", "go-on", "here"] as const) run.send({ kind });
    expect(run.effects.slice(before)).toEqual([]);
    run.send({ kind: "confirm" });
    expect(run.effects.at(-1)).toEqual({ kind: "open-line", patience: "until-open", known: NEW });
    run.send({ kind: "interface-met", identity: NEW }).send({ kind: "line-open" });
    expect(run.session.stage).toMatchObject({ kind: "line-lost", back: true });
    run.send({ kind: "confirm" }).playOut();
    expect(run.effects.at(-1)).toMatchObject({ kind: "play", from: 77 });
    expect(run.events("interface-met").map(({ identity }) => identity)).toEqual([OLD, NEW]);
  });

  test("a third one after the agreement is asked about again", () => {
    const run = atWork().send({ kind: "line-lost", words: "out" }).send(stranger).send({ kind: "confirm" });
    run.send({ ...stranger, identity: { number: "9", usb: "" } });
    expect(run.session.stage).toMatchObject({ kind: "other-interface", identity: { number: "9" } });
  });

  test('the one before is plugged in again: "again" looks for that one', () => {
    const run = atWork().send({ kind: "line-lost", words: "out" }, 77).send(stranger).send({ kind: "again" });
    expect(run.effects.at(-1)).toEqual({ kind: "open-line", patience: "until-open", known: OLD });
    run.send({ kind: "interface-met", identity: OLD }).send({ kind: "line-open" });
    expect(run.session.stage).toMatchObject({ kind: "line-lost", back: true });
  });

  test("it may be stopped instead", () => {
    const run = atWork().send({ kind: "line-lost", words: "out" }, 77).send(stranger).send({ kind: "stop" });
    expect(run.session.stage).toEqual({ kind: "finished", how: "stopped" });
    expect(run.events("course-changed").at(-1)).toMatchObject({ what: "stopped", step: "sweep-pan", frame: 77 });
  });

  test("a run that is taken up again knows the interface it was begun with, and asks before anything is opened", () => {
    const begun = atWork().send({ kind: "stop" });
    const run = new Driven(jobOf(["sweep: Pan", "sweep: CTO"]), begun.bodies.slice(0, -1)).send({ kind: "begin" });
    expect(run.effects.at(-1)).toEqual({ kind: "open-line", patience: "once", known: OLD });
    run.send(stranger);
    expect(run.session.stage.kind).toBe("other-interface");
    run.send({ kind: "confirm" });
    expect(run.effects.at(-1)).toEqual({ kind: "open-line", patience: "once", known: NEW });
    run.send({ kind: "interface-met", identity: NEW }).send({ kind: "line-open" });
    expect(run.session.stage).toMatchObject({ kind: "holding", point: "before-moving" });
  });

  test("while something else is asked the question waits, and is asked again afterwards", () => {
    const run = atWork().playOut();
    const asked = run.session.stage;
    expect(asked.kind).toBe("asking");
    run.send({ kind: "line-lost", words: "out" }).send(stranger).send({ kind: "confirm" });
    run.send({ kind: "line-open" }).send({ kind: "confirm" });
    expect(run.session.stage).toEqual(asked);
  });
});

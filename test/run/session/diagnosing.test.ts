import { describe, expect, test } from "vitest";
import { diagnose } from "../../../src/run/machine/diagnose.ts";
import { Driven, jobOf } from "../../kit/driven.ts";

const ONE = ["{ sweep: Pan, passes: 4 }"];

/** Pressed twice and called a grind; nobody has answered the diagnosis yet. */
const waiting = (steps: readonly string[] = ONE): Driven => {
  const run = new Driven(jobOf(steps)).started();
  run.diagnosis = "by hand";
  for (const frame of [200, 400]) run.send({ kind: "press" }, frame);
  run.playOut().send({ kind: "symptom", symptom: { symptom: "grinds", function: "Pan" } });
  return run.send({ kind: "judge", result: "fail" });
};
const asked = (run: Driven) => run.effects.filter((effect) => effect.kind === "diagnose").length;

describe("while it is worked out what may be wrong", () => {
  test("the run waits for it and says so; keys that would answer change nothing", () => {
    const run = waiting();
    expect(run.session.stage).toMatchObject({ kind: "diagnosing", purpose: { kind: "place", index: 0 } });
    const before = run.session.stage;
    run.send({ kind: "confirm" }).send({ kind: "choose", offer: 0 }).send({ kind: "press" });
    expect(run.session.stage).toBe(before);
    expect(run.answerDiagnosis().session.stage).toMatchObject({ kind: "placed", index: 0, function: "Pan" });
  });

  test("it can be stopped, and what comes afterwards changes nothing", () => {
    const run = waiting().send({ kind: "stop" });
    expect(run.session.stage).toEqual({ kind: "finished", how: "stopped" });
    expect(run.events("course-changed").at(-1)).toMatchObject({ what: "stopped", step: "sweep-pan" });
    const over = run.session;
    expect(run.answerDiagnosis().session.stage).toEqual(over.stage);
  });

  test("a line that is lost meanwhile is waited for, then it is asked once more", () => {
    const run = waiting().send({ kind: "line-lost", words: "out" });
    run.answerDiagnosis();
    expect(run.session.stage.kind).toBe("line-lost");
    run.send({ kind: "line-open" }).send({ kind: "confirm" });
    expect(run.session.stage.kind).toBe("diagnosing");
    expect(run.answerDiagnosis().session.stage.kind).toBe("placed");
  });

  test("whoever gives initials meanwhile is reckoned with: it is asked anew, for that person", () => {
    const run = waiting().send({ kind: "person", initials: "AB" }).answerDiagnosis();
    expect(run.session.stage.kind).toBe("diagnosing");
    expect(run.effects.findLast((effect) => effect.kind === "diagnose")?.findings.person).toBe("AB");
  });
});

test("the same evidence is not diagnosed twice: what was placed is offered without another diagnosis", () => {
  const run = waiting().answerDiagnosis();
  expect(asked(run)).toBe(1);
  expect(run.send({ kind: "confirm" }).session.stage.kind).toBe("what-next");
  expect(asked(run)).toBe(1);
});

test("a step that nobody pressed in, or only once, asks for nothing", () => {
  const run = new Driven(jobOf([...ONE, "sweep: Iris"])).started();
  run.diagnosis = "by hand";
  run.playOut().send({ kind: "judge", result: "pass" });
  expect(run.session.stage).toMatchObject({ kind: "moving", index: 1 });
  run.send({ kind: "press" }, 100).playOut().send({ kind: "judge", result: "unsure" });
  expect(asked(run), "only what could be done next is asked for, at the end").toBe(1);
  expect(run.session.stage).toMatchObject({ kind: "diagnosing", purpose: { kind: "go-on" } });
});

test("what travels to another thread is data, and says the same there", () => {
  const findings = waiting().effects.findLast((effect) => effect.kind === "diagnose")!.findings;
  const travelled = structuredClone(findings);
  expect(travelled).toEqual(findings);
  expect(structuredClone(diagnose(travelled))).toEqual(diagnose(findings));
});

test("eight tests are added to a run at most: after that none is offered, and it is time to open the fixture", () => {
  const run = waiting();
  const { findings } = run.effects.findLast((effect) => effect.kind === "diagnose")!;
  const once = diagnose(findings);
  run.diagnose = () => once;
  run.diagnosis = "at once";
  run.answerDiagnosis();
  for (let added = 0; added < 8; added++) {
    expect(run.session.stage).toMatchObject({ kind: "placed", tests: once.places[0]!.tests });
    run.send({ kind: "choose", offer: 0 });
    while (run.session.stage.kind !== "moving") run.send({ kind: "confirm" }).playOut();
    run.send({ kind: "press" }, 100).playOut().send({ kind: "judge", result: "fail" });
  }
  expect(run.session.view.added).toHaveLength(8);
  expect(run.session.stage).toMatchObject({ kind: "placed", tests: [] });
});

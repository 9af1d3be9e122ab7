import { expect, test } from "vitest";
import { questionOf } from "../../../src/run/session/session.ts";
import { Driven, jobOf } from "../../kit/driven.ts";

const TWO = ["sweep: Pan", "sweep: Iris"];
const handsOff = () => new Driven(jobOf(TWO, { mode: "hands-off" })).started();

test("a press that names the step which ended in that moment still belongs to it", () => {
  const run = handsOff();
  const first = questionOf(run.session) ?? "";
  run.playOut().send({ kind: "press", answers: first }, 1);
  const planned = run.session.job.timeline.steps[0];
  expect(run.events("pressed")).toMatchObject([{ step: "sweep-pan", attempt: 1, frame: (planned?.frames ?? 0) + 1 }]);
});

test("also when it is already asked about, but not once it was judged", () => {
  const run = new Driven(jobOf(TWO)).started();
  const first = questionOf(run.session) ?? "";
  run.playOut().send({ kind: "press", answers: first });
  expect(run.events("pressed").map(({ step }) => step)).toEqual(["sweep-pan"]);
  run.send({ kind: "confirm" }).send({ kind: "press", answers: first });
  expect(run.events("pressed").length).toBe(1);
  expect(run.results()["sweep-pan"]).toBe("unsure");
});

test("nor in a group whose last step was already answered for", () => {
  const run = handsOff().playOut();
  const second = questionOf(run.session) ?? "";
  run.send({ kind: "press" }, 90).playOut().send({ kind: "judge", result: "fail" });
  expect(run.session.stage).toEqual({ kind: "confirming", indexes: [0] });
  run.send({ kind: "press", answers: second });
  expect(run.events("pressed").length).toBe(1);
});

test("whoever leaves at a question finds it open on coming back, in the dark, and confirms the area before anything moves", () => {
  const run = new Driven(jobOf(TWO)).started().playOut().send({ kind: "away" });
  expect(run.effects).toContainEqual({ kind: "go-dark" });
  expect(run.session.stage).toMatchObject({ kind: "asking", index: 0 });
  expect(run.events("course-changed")).toMatchObject([{ what: "away", step: "sweep-pan" }]);
  run.send({ kind: "again" });
  expect(run.session.stage).toMatchObject({ kind: "holding", point: "before-moving" });
  run.send({ kind: "confirm" });
  expect(run.session.stage.kind).toBe("slow-start");
  run.playOut();
  expect(run.session.stage).toMatchObject({ kind: "moving", index: 0, attempt: 2 });
});

test("at the group's question the last judgement can be taken back", () => {
  const run = handsOff().send({ kind: "press" }, 90).playOut().playOut();
  run.send({ kind: "judge", result: "fail" });
  expect(run.session.stage).toEqual({ kind: "confirming", indexes: [1] });
  run.send({ kind: "undo" });
  expect(run.session.stage).toMatchObject({ kind: "asking", index: 0 });
  run.send({ kind: "judge", result: "pass" }).send({ kind: "confirm" });
  expect(run.results()).toEqual({ "sweep-pan": "pass", "sweep-iris": "pass" });
});

test("a power-up is played again only with a hand on the mains", () => {
  const run = new Driven(jobOf(["power-up: fixture", ...TWO])).begin().send({ kind: "confirm" });
  run.playOut().send({ kind: "again" });
  expect(run.session.stage).toMatchObject({ kind: "holding", point: "mains-on" });
});

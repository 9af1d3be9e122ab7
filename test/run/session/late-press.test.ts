import { expect, test } from "vitest";
import { Driven, jobOf } from "../../kit/driven.ts";

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

import { expect, test } from "vitest";
import { identifyingRack, spots } from "../../kit/driven-rack.ts";

const identifying = (count: number) => identifyingRack({ fixtures: spots(count), steps: [] }).begin();

test("one fixture at a time moves, all others dark and still, and each time it is asked who did", () => {
  const rack = identifying(3).untilStage("moving");
  expect(rack.movers()).toEqual(["S1"]);
  rack.playOut();
  expect(rack.batch.stage).toMatchObject({ kind: "which", named: [] });
  rack.differs("S1").send({ kind: "confirm" });
  expect(rack.movers()).toEqual(["S2"]);
});

test("who really moved is kept, and a fixture that does not do what it is told fails by its own run", () => {
  const rack = identifying(4).untilStage("which").differs("S2").send({ kind: "confirm" });
  rack.untilStage("which").differs("S1").send({ kind: "confirm" });
  rack.untilStage("which").differs("S3").differs("S4").differs("S4").send({ kind: "confirm" });
  rack.untilStage("which").send({ kind: "confirm" }).untilStage("finished");
  expect(rack.batch.record.answers).toEqual([
    { asked: "S1", moved: ["S2"] },
    { asked: "S2", moved: ["S1"] },
    { asked: "S3", moved: ["S3"] },
    { asked: "S4", moved: [] },
  ]);
  expect(
    rack.effects.filter(({ kind }) => kind === "play"),
    "a slow movement, and each of them once",
  ).toHaveLength(5);
  expect(["S1", "S3", "S4"].map((serial) => rack.result(serial, "identify-fixture"))).toEqual(["fail", "pass", "fail"]);
});

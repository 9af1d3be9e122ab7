import { expect, test } from "vitest";
import { DrivenRack, spots } from "../../kit/driven-rack.ts";

/** A circuit that can start only a few of them at once, whatever the profile says they draw. */
const rackOn = (rating: number) =>
  new DrivenRack({
    fixtures: spots(4).map((one) => one.replace(" }", ", circuit: A }")),
    steps: ["power-up: fixture", "{ sweep: Pan, seconds: 3, passes: 2 }"],
    more: `circuits:\n  A: { rating_a: ${rating}, volts: 230 }`,
  }).begin();
const switchedOn = (rack: DrivenRack) =>
  rack.effects.flatMap((effect) =>
    effect.kind === "by-hand" && effect.deed.kind === "mains-on" ? [effect.deed.serials] : [],
  );

test("the mains goes on stage by stage, as the circuit bears it, each stage watched as it homes", () => {
  const rack = rackOn(22).send({ kind: "confirm" });
  expect(rack.batch.stage).toMatchObject({ kind: "holding", point: "mains-on" });
  rack.until(({ stage }) => stage.kind === "slow-start");
  const stages = switchedOn(rack);
  expect(stages.length).toBeGreaterThan(1);
  expect(stages.flat().toSorted()).toEqual(["S1", "S2", "S3", "S4"]);
  expect(rack.result("S4", "power-up-fixture")).toBe("pass");
});

test("the next stage is not begun before the circuit is ready for it, however often somebody agrees", () => {
  const rack = rackOn(22);
  const late = rack.batch.plan.turns.map((turn) => (turn.kind === "start" ? { ...turn, after: 600 } : turn));
  rack.batch = { ...rack.batch, plan: { ...rack.batch.plan, turns: late } };
  rack.send({ kind: "confirm" }).send({ kind: "confirm" });
  expect(switchedOn(rack)).toHaveLength(1);
  rack.playOut().send({ kind: "confirm" }).send({ kind: "confirm" });
  expect(rack.batch.stage).toMatchObject({ kind: "holding", point: "mains-on" });
  expect(switchedOn(rack)).toHaveLength(1);
  for (let minutes = 0; minutes < 10; minutes += 1) {
    rack.at += 60;
    rack.send({ kind: "here" });
  }
  rack.send({ kind: "confirm" });
  expect(switchedOn(rack)).toHaveLength(2);
});

test("whoever was silent for more than a minute before the mains goes on is asked about the area again: they move by themselves as soon as they have power", () => {
  const rack = rackOn(22).send({ kind: "confirm" });
  expect(rack.batch.stage).toMatchObject({ kind: "holding", point: "mains-on" });
  rack.at += 61;
  rack.send({ kind: "confirm" });
  expect(switchedOn(rack)).toEqual([]);
  expect(rack.batch.stage).toMatchObject({ kind: "holding", point: "before-moving" });
  rack.send({ kind: "confirm" }).send({ kind: "confirm" });
  expect(switchedOn(rack)).toHaveLength(1);
});

test("fixtures of which nobody said the circuit are switched on last", () => {
  const fixtures = spots(3).map((one, n) => (n === 0 ? one : one.replace(" }", ", circuit: A }")));
  const more = "circuits:\n  A: { rating_a: 63, volts: 230 }";
  const rack = new DrivenRack({ fixtures, steps: ["power-up: fixture"], more }).begin().untilStage("finished");
  expect(switchedOn(rack)).toEqual([["S2", "S3"], ["S1"]]);
});

test("who homed oddly is looked at again by a reset, alone", () => {
  const rack = new DrivenRack({ fixtures: spots(2), steps: ["power-up: fixture"] }).begin().untilStage("moving");
  rack.differs("S2", 1200).playOut().untilStage("alone");
  expect(rack.batch.members[1]?.session.job.timeline.steps.at(-1)?.routine).toBe("home");
});

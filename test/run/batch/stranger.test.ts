import { expect, test } from "vitest";
import { DrivenRack, spots } from "../../kit/driven-rack.ts";

const OLD = { number: "7", usb: "" };
const NEW = { number: "8", usb: "" };
const stranger = (universe: number) =>
  ({ kind: "stranger", universe, identity: NEW, words: "it is number 8" }) as const;
const met = (universe: number, identity = OLD) => ({ kind: "interface-met", universe, identity }) as const;
const PAN = "sweep: Pan";

const twoLines = () => {
  const fixtures = [...spots(2, 1), ...spots(2, 2, 3)];
  const rack = new DrivenRack({ fixtures, steps: [PAN], lines: [1, 2] });
  return rack.send(met(1)).send(met(2)).begin().untilStage("moving");
};

test("another interface where everybody waits for it: asked at once, and only that one is opened after a yes", () => {
  const rack = new DrivenRack({ fixtures: spots(2), steps: [PAN] }).send(met(1)).begin().untilStage("moving");
  rack.send({ kind: "line-lost", universe: 1, words: "out" });
  expect(rack.effects.at(-1)).not.toMatchObject({ kind: "play" });
  expect(rack.effects).toContainEqual({ kind: "open-line", universe: 1, patience: "until-open", known: OLD });
  rack.send(stranger(1));
  expect(rack.batch.stage).toEqual({ kind: "other-interface", universe: 1, identity: NEW, words: "it is number 8" });
  rack.send({ kind: "press" }).send({ kind: "here" });
  expect(rack.batch.stage.kind).toBe("other-interface");
  rack.send({ kind: "confirm" });
  expect(rack.effects.at(-1)).toEqual({ kind: "open-line", universe: 1, patience: "until-open", known: NEW });
  rack.send(met(1, NEW)).send({ kind: "line-open", universe: 1 });
  expect(rack.batch.stage).toMatchObject({ kind: "holding", point: "before-moving" });
  rack.untilStage("finished");
  expect(rack.closed()).toEqual({ S1: "finished", S2: "finished" });
  expect(rack.batch.record.interfaces.get(1)).toEqual(NEW);
});

test("on a line that nobody waits for just now: the movement ends first, and before the next it is asked", () => {
  const rack = twoLines().send({ kind: "line-lost", universe: 2, words: "out" });
  rack.send({ kind: "decline" });
  const aside = new DrivenRack({ fixtures: [...spots(6, 1), ...spots(4, 2, 7)], steps: [PAN], lines: [1, 2] });
  aside.begin().untilStage("moving").send({ kind: "line-lost", universe: 2, words: "out" }).send(stranger(2));
  expect(aside.batch.stage.kind).toBe("moving");
  aside.playOut();
  expect(aside.batch.stage).toMatchObject({ kind: "other-interface", universe: 2 });
});

test("not agreed: the others go on without those who hang on it, and nothing is ever sent there", () => {
  const rack = twoLines().send({ kind: "line-lost", universe: 2, words: "out" }).send(stranger(2));
  expect(rack.batch.stage.kind).toBe("other-interface");
  const before = rack.effects.length;
  rack.send({ kind: "decline" }).untilStage("finished");
  const after = rack.effects.slice(before);
  expect(after.some((effect) => effect.kind === "open-line")).toBe(false);
  expect(
    after
      .flatMap((effect) => (effect.kind === "play" ? effect.parts.flatMap(({ spots: at }) => at) : []))
      .map((spot) => spot.universe),
  ).not.toContain(2);
  expect(rack.closed()).toMatchObject({ S1: "finished", S3: "stopped" });
});

test("at the start of a rack that is taken up again it is asked before the line is opened", () => {
  const rack = new DrivenRack({ fixtures: spots(1), steps: [PAN] }).send({ kind: "begin" }).send(stranger(1));
  expect(rack.batch.stage).toMatchObject({ kind: "other-interface" });
  rack.send({ kind: "confirm" }).send({ kind: "line-open", universe: 1 });
  expect(rack.batch.stage.kind).toBe("holding");
});

test("while one is looked at alone its own page asks, and the rack remembers the interface that was agreed to", () => {
  const rack = new DrivenRack({ fixtures: spots(2), steps: [PAN] }).send(met(1)).begin().untilStage("moving");
  rack.differs("S1").untilStage("alone");
  rack.send({ kind: "line-lost", universe: 1, words: "out" });
  expect(rack.effects.at(-1)).toEqual({ kind: "open-line", universe: 1, patience: "until-open", known: OLD });
  rack.send(stranger(1));
  expect(rack.batch.members[0]?.session.stage.kind).toBe("other-interface");
  rack.send({ kind: "confirm" }).send(met(1, NEW)).send({ kind: "line-open", universe: 1 });
  expect(rack.batch.record.interfaces.get(1)).toEqual(NEW);
  expect(rack.batch.members[0]?.session.stage).toMatchObject({ kind: "line-lost", back: true });
});

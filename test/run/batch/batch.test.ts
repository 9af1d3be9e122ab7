import { expect, test } from "vitest";
import { memberAt } from "../../../src/run/batch/batch.ts";
import { DrivenRack, spots } from "../../kit/driven-rack.ts";

const GOBO = "{ step-through: Gobo1, dwell_s: 0.5 }";
const PAN = "{ sweep: Pan, seconds: 3, passes: 2 }";
const IRIS = "{ sweep: Iris, seconds: 2, passes: 2 }";

test("a group plays the same compiled step at once; a slow movement of all of them comes first", () => {
  const rack = new DrivenRack({ fixtures: spots(4), steps: [PAN] }).begin();
  expect(rack.batch.stage).toMatchObject({ kind: "holding", point: "before-moving" });
  rack.send({ kind: "confirm" });
  expect(rack.batch.stage.kind).toBe("slow-start");
  expect(rack.movers()).toEqual(["S1", "S2", "S3", "S4"]);
  rack.playOut();
  expect(rack.batch.stage.kind).toBe("moving");
  expect(rack.playing()?.parts.map(({ step, spots: at }) => [step.id, at.length])).toEqual([["sweep-pan", 4]]);
});

test("of every fixture it is known where it was last commanded to stand, and of one without a part that it was not moved", () => {
  const more = "groups: { broad: 2, fine: 2 }";
  const rack = new DrivenRack({ fixtures: spots(4), steps: [PAN], more }).begin();
  const standing = () =>
    rack.batch.members.map(
      ({ session: { commanded } }) => commanded.stands && [commanded.stands.step.id, commanded.stands.frame],
    );
  expect(standing()).toEqual([undefined, undefined, undefined, undefined]);
  rack.untilStage("moving").send({ kind: "freeze" }, 70);
  const [first, second, ...others] = standing();
  expect([first, second]).toEqual([
    ["sweep-pan", 70],
    ["sweep-pan", 70],
  ]);
  for (const one of others) expect(one?.[0]).not.toBe("sweep-pan");
});

test("each step is announced once for all", () => {
  const rack = new DrivenRack({ fixtures: spots(4), steps: [PAN] }).begin().untilStage("moving");
  expect(rack.effects.flatMap((effect) => (effect.kind === "say" ? [effect.words] : []))).toEqual([
    "group 1 of 1: top: slow movement first. Stand clear.",
    "pan: full sweep. even, quiet travel to both ends.",
  ]);
});

test.each([
  {
    more: "groups: { broad: 6, fine: 3 }",
    seen: ["S1 S2 S3 S4 S5 S6", "S1 S2 S3", "S4 S5 S6", "S7 S8", "S7 S8"],
    because: "never more than the file says",
  },
  {
    more: "",
    seen: ["S1 S2 S3 S4 S5 S6 S7 S8", "S1 S2 S3 S4", "S5 S6 S7 S8"],
    because: "where nothing is said two more make a look of its own needless",
  },
])(
  "movement and colour are watched together, what is fine by fewer, whoever is not watched has no part: $because",
  (one) => {
    const rack = new DrivenRack({ fixtures: spots(8), steps: [PAN, GOBO], more: one.more }).begin();
    const seen: string[] = [];
    rack.until(({ stage }) => {
      if (stage.kind === "moving" && rack.playing()?.key !== seen.at(-1)?.split(" ")[0])
        seen.push(`${rack.playing()?.key} ${rack.movers().join(" ")}`);
      return stage.kind === "finished";
    });
    expect(seen.map((words) => words.split(" ").slice(1).join(" "))).toEqual(one.seen);
  },
);

const SIXES = "groups: { broad: 6, fine: 3 }";
test("what is left of two kinds moves side by side, each its own way; what is watched closely, kind by kind", () => {
  const washes = [9, 10].map(
    (n) => `{ serial: W${n}, profile: led-wash, shelf: low, place: "${n}", universe: 1, address: ${250 + 20 * n} }`,
  );
  const rack = new DrivenRack({ fixtures: [...spots(8), ...washes], steps: [PAN, GOBO], more: SIXES }).begin();
  const seen: string[] = [];
  rack.until(({ stage }) => {
    const now = `${rack.playing()?.key} ${rack.movers().join(" ")}`;
    if (stage.kind === "moving" && now !== seen.at(-1)) seen.push(now);
    return stage.kind === "finished";
  });
  expect(seen.map((one) => one.split(" ").slice(1).join(" "))).toEqual([
    "S1 S2 S3 S4 S5 S6",
    "S1 S2 S3",
    "S4 S5 S6",
    "S7 S8 W9 W10",
    "S7 S8",
  ]);
});

test("one key for each fixture: a press is that fixture's own, at its frame, and marks the step unsure", () => {
  const rack = new DrivenRack({ fixtures: spots(3), steps: [PAN] }).begin().untilStage("moving");
  rack.differs("S2", 90).differs("S2", 150).playOut();
  expect(rack.batch.members.map(({ session }) => session.view.steps[0]?.presses.map(({ frame }) => frame))).toEqual([
    [],
    [90, 150],
    [],
  ]);
  rack.untilStage("between");
  expect(["S1", "S2", "S3"].map((serial) => rack.result(serial, "sweep-pan"))).toEqual(["pass", "unsure", "pass"]);
});

test("silence is confirmed when a pass is over, and never counts for longer than a minute without a sign of life", () => {
  const long = "{ sweep: Pan, seconds: 35, passes: 2 }";
  const rack = new DrivenRack({ fixtures: spots(2), steps: [long, PAN] }).begin().untilStage("moving");
  rack.playOut().send({ kind: "here" }).playOut();
  expect(rack.batch.stage.kind).toBe("confirming");
  rack.send({ kind: "confirm" });
  expect([rack.result("S1", "sweep-pan"), rack.result("S1", "sweep-pan-2")]).toEqual(["not-watched", "pass"]);
});

test("nobody was there: nothing counts", () => {
  const rack = new DrivenRack({ fixtures: spots(2), steps: [PAN] }).begin().untilStage("confirming");
  rack.send({ kind: "decline" });
  expect([rack.result("S1", "sweep-pan"), rack.result("S2", "sweep-pan")]).toEqual(["not-watched", "not-watched"]);
});

test("all but some were watched: those do not count, the others have passed", () => {
  const rack = new DrivenRack({ fixtures: spots(4), steps: [PAN] }).begin().untilStage("confirming");
  rack.send({ kind: "confirm-but", members: [1, 3] });
  expect(["S1", "S2", "S3", "S4"].map((serial) => rack.result(serial, "sweep-pan"))).toEqual([
    "pass",
    "not-watched",
    "pass",
    "not-watched",
  ]);
});

test('the large button means "one of them": which one is asked when the step is over', () => {
  const rack = new DrivenRack({ fixtures: spots(3), steps: [PAN] }).begin().untilStage("moving");
  rack.send({ kind: "press" }, 120).playOut();
  expect(rack.batch.stage).toMatchObject({ kind: "which", presses: [{ frame: 120 }] });
  rack.differs("S3").send({ kind: "confirm" }).untilStage("between");
  expect(["S1", "S2", "S3"].map((serial) => rack.result(serial, "sweep-pan"))).toEqual(["pass", "pass", "unsure"]);
});

test("a press in the first moments, with the beams shut, belongs to the step before", () => {
  const rack = new DrivenRack({ fixtures: spots(2), steps: [PAN, "{ sweep: Tilt, seconds: 3, passes: 2 }"] });
  rack.begin().untilStage("moving").playOut().differs("S1", 2).send({ kind: "press" }, 3).playOut();
  rack.differs("S2").send({ kind: "confirm" }).untilStage("between");
  expect([rack.result("S1", "sweep-pan"), rack.result("S1", "sweep-tilt")]).toEqual(["unsure", "pass"]);
  expect([rack.result("S2", "sweep-pan"), rack.result("S2", "sweep-tilt")]).toEqual(["unsure", "pass"]);
});

test("a key that comes when the step is just over still belongs to it", () => {
  const rack = new DrivenRack({ fixtures: spots(2), steps: [PAN, "{ sweep: Tilt, seconds: 3, passes: 2 }"] });
  rack.begin().untilStage("moving");
  const { key } = rack.playing()!;
  rack.playOut().send({ kind: "differs", answers: key, member: 1 }, 1).untilStage("between");
  expect([rack.result("S2", "sweep-pan"), rack.result("S2", "sweep-tilt")]).toEqual(["unsure", "pass"]);
});

test("again: the same step from its start, presses and all", () => {
  const rack = new DrivenRack({ fixtures: spots(2), steps: [PAN] }).begin().untilStage("moving");
  rack.differs("S1").send({ kind: "again" });
  expect(rack.batch.stage).toMatchObject({ kind: "moving", attempt: 2 });
  rack.playOut().untilStage("finished");
  expect(rack.result("S1", "sweep-pan")).toBe("pass");
});

test("the rig itself was late: the group plays once more before anybody is judged", () => {
  const rack = new DrivenRack({ fixtures: spots(2), steps: [PAN] });
  const real = rack.batch.members.map((member) => {
    const { session } = member;
    const opening = { ...session.job.opening, output: "serial:/dev/ttyUSB0" };
    return { ...member, session: { ...session, job: { ...session.job, opening } } };
  });
  rack.batch = { ...rack.batch, members: real };
  rack
    .begin()
    .untilStage("moving")
    .send({ kind: "played", rig: { worstLate: 0.1, dropped: 3 } });
  expect(rack.batch.stage).toMatchObject({ kind: "moving", attempt: 2 });
  expect(rack.result("S1", "sweep-pan")).toBe("open");
  expect(rack.movers()).toEqual(["S1", "S2"]);
});

test("the second pass: only who was pressed, only what was pressed, one function at a time, slowly, by the rules of a single run", () => {
  const steps = [PAN, "{ sweep: [ColorSub_C, ColorSub_M], seconds: 2, id: both }", IRIS];
  const rack = new DrivenRack({ fixtures: spots(3), steps }).begin().untilStage("moving");
  rack.playOut().differs("S2").untilStage("between");
  expect(rack.batch.stage).toMatchObject({ odd: [1] });
  expect(rack.closed()).toEqual({ S1: "finished", S2: "open", S3: "finished" });
  rack.send({ kind: "confirm" });
  expect(rack.batch.stage).toEqual({ kind: "alone", member: 1 });
  const { session } = rack.batch.members[1]!;
  const added = session.job.timeline.steps.slice(3);
  expect(added.map(({ id, functions }) => [id, functions])).toEqual([
    ["alone-both-colorsub-c", ["ColorSub_C"]],
    ["alone-both-colorsub-m", ["ColorSub_M"]],
  ]);
  expect(added[0]!.frames).toBeGreaterThan(8 * 4 * 40);
  rack.send({ kind: "confirm" });
  expect(rack.movers()).toEqual(["S2"]);
  rack.until(({ members }) => members[1]!.session.stage.kind === "asking");
  rack.send({ kind: "symptom", symptom: { symptom: "jerks", function: "ColorSub_C" } }).send({ kind: "confirm" });
  expect(rack.result("S2", "alone-both-colorsub-c")).toBe("fail");
  rack.untilStage("finished");
  expect(rack.closed()).toEqual({ S1: "finished", S2: "finished", S3: "finished" });
  expect(rack.batch.stage).toEqual({ kind: "finished", how: "finished" });
});

test("a clean rack has no second pass", () => {
  const rack = new DrivenRack({ fixtures: spots(2), steps: [PAN] }).begin().untilStage("finished");
  expect(rack.effects.filter(({ kind }) => kind === "play")).toHaveLength(2);
});

test("the computer stood still in a movement: all stand dark, and the step starts again after the safety point, slowly first", () => {
  const rack = new DrivenRack({ fixtures: spots(3), steps: [PAN] }).begin().untilStage("moving");
  rack.send({ kind: "stood-still", time: 600 });
  expect(rack.batch).toMatchObject({
    stage: { kind: "paused" },
    trouble: "The computer stood still for 600 s; no key was heard meanwhile.",
  });
  rack.send({ kind: "confirm" });
  expect(rack.batch).toMatchObject({ stage: { kind: "holding", point: "before-moving" }, trouble: undefined });
  rack.send({ kind: "confirm" });
  expect(rack.batch.stage.kind).toBe("slow-start");
  rack.playOut();
  expect(rack.batch.stage).toMatchObject({ kind: "moving", next: { index: 0 } });
  expect(rack.movers()).toEqual(["S1", "S2", "S3"]);
});

test("whatever is said or heard of a fixture that is looked at alone counts in its own run, as on any bench", () => {
  const rack = new DrivenRack({ fixtures: spots(2), steps: [PAN] }).begin().untilStage("moving").differs("S2");
  rack.playOut().untilStage("alone");
  rack.until(({ members }) => members[1]?.session.stage.kind === "moving");
  const own = () => memberAt(rack.batch, 1).session;
  const signs = own().signs.length;
  rack.at += 5;
  rack.send({ kind: "here" }).send({ kind: "person", initials: "jb" });
  rack.send({
    kind: "sensors-followed",
    run: "r-02",
    body: { kind: "sensors-followed", uid: "7FF0:00000002", lit_min: 1, values: [] },
  });
  expect(own().signs.length).toBe(signs + 1);
  expect([own().person, rack.batch.person]).toEqual(["jb", "jb"]);
});

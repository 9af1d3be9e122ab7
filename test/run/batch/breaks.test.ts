import { expect, test } from "vitest";
import { fromStored, type StoredStep } from "../../../src/plan/stored.ts";
import { openBatch } from "../../../src/run/batch/batch.ts";
import { rackViewOf } from "../../../src/run/events/rack-view.ts";
import { openSession } from "../../../src/run/session/session.ts";
import { DrivenRack, type RackOfTests, rackJobOf, spots } from "../../kit/driven-rack.ts";

const PAN = "{ sweep: Pan, seconds: 3, passes: 2 }";
const TILT = "{ sweep: Tilt, seconds: 3, passes: 2 }";

/** Another day: everything there is to know is what was written. */
const goneOnWith = (first: DrivenRack, order: RackOfTests): DrivenRack => {
  const written = first.effects.flatMap((effect) => (effect.kind === "write" ? [effect] : []));
  const of = (run: string) => written.filter((effect) => effect.run === run).map(({ body }) => body);
  const record = rackViewOf(of("r"));
  const { plan, members } = rackJobOf(order);
  const later = members.map((member, index) => {
    const now = record.members[index]!;
    const { view, job } = openSession(member.session.job, "KM", of(now.run));
    const more = view.added.map((step) => fromStored(job.timeline.profile, step as StoredStep));
    const timeline = { ...job.timeline, steps: [...job.timeline.steps, ...more] };
    return { ...member, ...now, session: openSession({ ...job, timeline }, "KM", of(now.run)) };
  });
  return new DrivenRack(openBatch(plan, later, "KM", record)).begin();
};

test("a break waits until the step is over; then all is dark, and the area is asked about before anything moves again", () => {
  const rack = new DrivenRack({ fixtures: spots(2), steps: [PAN, TILT] }).begin().untilStage("moving");
  rack.send({ kind: "away" });
  expect(rack.batch.stage.kind).toBe("moving");
  rack.playOut();
  expect(rack.batch.stage.kind).toBe("paused");
  expect(rack.effects.at(-1)).toEqual({ kind: "go-dark" });
  rack.send({ kind: "go-on" });
  expect(rack.batch.stage).toMatchObject({ kind: "holding", point: "before-moving" });
});

test("a fixture that is withdrawn stops nobody: the others go on, and it is asked no more", () => {
  const rack = new DrivenRack({ fixtures: spots(3), steps: [PAN, TILT] }).begin().untilStage("moving");
  rack.differs("S2").send({ kind: "away" }).playOut().send({ kind: "withdraw", member: 1, why: "no data" });
  rack.untilStage("finished");
  expect(rack.closed()).toEqual({ S1: "finished", S2: "abandoned", S3: "finished" });
  expect([rack.result("S2", "sweep-tilt"), rack.result("S3", "sweep-tilt")]).toEqual(["open", "pass"]);
  expect(rack.batch.record.members[1]).toMatchObject({ state: "withdrawn" });
});

test("a fixture that is swapped begins at the beginning, in a run of its own, and catches up before the others go on", () => {
  const rack = new DrivenRack({ fixtures: spots(3), steps: [PAN, TILT] }).begin().untilStage("moving");
  rack.send({ kind: "away" }).playOut().send({ kind: "swap", member: 1, serial: "NEW" }).untilStage("moving");
  expect(rack.batch.stage).toMatchObject({ next: { index: 0, members: [1] } });
  rack.playOut();
  expect(rack.batch.stage).toMatchObject({ next: { index: 1, members: [0, 1, 2] } });
  rack.untilStage("finished");
  expect(rack.closed()).toEqual({ S1: "finished", NEW: "finished", S3: "finished" });
  expect(rack.batch.members.map(({ run }) => run)).toEqual(["r-01", "r-04", "r-03"]);
  expect(rack.effects).toContainEqual({ kind: "by-hand", deed: { kind: "swapped", serial: "S2", by: "NEW" } });
});

test("each that is swapped in has a run of its own", () => {
  const rack = new DrivenRack({ fixtures: spots(2), steps: [PAN, TILT] }).begin().untilStage("moving");
  rack.send({ kind: "away" }).playOut();
  for (const serial of ["X", "Y"]) rack.send({ kind: "swap", member: 0, serial });
  expect(rack.batch.members.map(({ serial, run }) => `${serial} ${run}`)).toEqual(["Y r-04", "S2 r-02"]);
});

test("nobody can be swapped in who is there already", () => {
  const rack = new DrivenRack({ fixtures: spots(2), steps: [PAN, TILT] }).begin().untilStage("moving");
  rack.send({ kind: "away" }).playOut().send({ kind: "swap", member: 1, serial: "S1" });
  expect(rack.batch.members.map(({ serial }) => serial)).toEqual(["S1", "S2"]);
});

test("stopped and gone on with another day: nothing that was answered is asked again, who was swapped stays, and the odd one is still to come", () => {
  const order = { fixtures: spots(3), steps: [PAN, TILT] };
  const first = new DrivenRack(order).begin().untilStage("moving");
  first.differs("S1").send({ kind: "away" }).playOut().send({ kind: "swap", member: 2, serial: "NEW" });
  first.untilStage("moving").playOut().untilStage("confirming").send({ kind: "confirm" });
  first.send({ kind: "stop" });
  expect(first.batch.stage).toEqual({ kind: "finished", how: "stopped" });

  const second = goneOnWith(first, order).untilStage("between");
  expect(second.batch.members.map(({ serial }) => serial)).toEqual(["S1", "S2", "NEW"]);
  expect(second.effects.filter(({ kind }) => kind === "play")).toHaveLength(0);
  expect(second.batch.stage).toMatchObject({ odd: [0] });
  second.untilStage("finished");
  expect(second.closed()).toEqual({ S1: "finished", S2: "finished", NEW: "finished" });
});

test("stopped in the middle of a pass: what had no answer comes again, and then the run is finished after all", () => {
  const order = { fixtures: spots(2), steps: [PAN, TILT] };
  const first = new DrivenRack(order).begin().untilStage("moving").playOut().send({ kind: "stop" });
  expect(first.closed()).toEqual({ S1: "stopped", S2: "stopped" });
  const second = goneOnWith(first, order).untilStage("finished");
  expect(second.closed()).toEqual({ S1: "finished", S2: "finished" });
});

test("stopped while one was looked at alone: its steps are not added twice", () => {
  const order = { fixtures: spots(2), steps: [PAN, TILT] };
  const first = new DrivenRack(order)
    .begin()
    .untilStage("moving")
    .differs("S1")
    .untilStage("alone")
    .send({ kind: "stop" });
  const second = goneOnWith(first, order).untilStage("finished");
  expect(second.batch.members[0]?.session.view.added).toHaveLength(1);
  expect(second.closed()).toEqual({ S1: "finished", S2: "finished" });
});

test("a line that is gone stops only those on it: they go dark, and with a word the others go on without them", () => {
  const fixtures = [...spots(2, 1), ...spots(2, 2, 3)];
  const rack = new DrivenRack({ fixtures, steps: [PAN, TILT], lines: [1, 2] }).begin().untilStage("moving");
  rack.playOut().send({ kind: "line-lost", universe: 2, words: "the cable is out" });
  expect(rack.batch.stage).toMatchObject({ kind: "line-lost", universe: 2, back: false });
  expect(rack.effects).toContainEqual({ kind: "open-line", universe: 2, patience: "until-open" });
  rack.send({ kind: "confirm" });
  expect(rack.batch.stage.kind, "nobody agrees to a line that is still gone").toBe("line-lost");
  rack.send({ kind: "decline" }).untilStage("finished");
  expect([rack.result("S3", "sweep-pan"), rack.result("S3", "sweep-tilt")]).toEqual(["not-watched", "open"]);
  expect([rack.result("S1", "sweep-pan"), rack.result("S1", "sweep-tilt")]).toEqual(["pass", "pass"]);
  expect(rack.closed()).toEqual({ S1: "finished", S2: "finished", S3: "stopped", S4: "stopped" });
  expect(rack.batch.stage).toEqual({ kind: "finished", how: "stopped" });
});

test("the line is back: a person agrees, a slow movement comes first, and the step begins again for all", () => {
  const rack = new DrivenRack({ fixtures: spots(2), steps: [PAN] }).begin().untilStage("moving");
  rack.send({ kind: "line-lost", universe: 1, words: "out" }).send({ kind: "line-open", universe: 1 });
  expect(rack.batch.stage).toMatchObject({ kind: "line-lost", back: true });
  rack.send({ kind: "confirm" });
  expect(rack.batch.stage.kind).toBe("holding");
  rack.send({ kind: "confirm" });
  expect(rack.batch.stage.kind).toBe("slow-start");
  rack.untilStage("finished");
  expect(rack.closed()).toEqual({ S1: "finished", S2: "finished" });
});

test("a line on which nobody moves just now is lost without a halt, and its fixtures come later, when it is back", () => {
  const fixtures = [...spots(6, 1), ...spots(4, 2, 7)];
  const rack = new DrivenRack({ fixtures, steps: [PAN], lines: [1, 2] }).begin().untilStage("moving");
  rack.send({ kind: "line-lost", universe: 2, words: "out" });
  expect(rack.batch.stage.kind).toBe("moving");
  rack.playOut().send({ kind: "line-open", universe: 2 }).untilStage("finished");
  expect(rack.closed()).toMatchObject({ S7: "finished", S8: "finished" });
});

test("at the start a line that cannot be opened leaves the others to begin; with none of them it cannot begin", () => {
  const fixtures = [...spots(1, 1), ...spots(1, 2, 2)];
  const rack = new DrivenRack({ fixtures, steps: [PAN], lines: [1, 2] }).send({ kind: "begin" });
  rack.send({ kind: "line-lost", universe: 2, words: "busy" }).send({ kind: "line-open", universe: 1 });
  expect(rack.batch.stage.kind).toBe("holding");
  const none = new DrivenRack({ fixtures, steps: [PAN], lines: [1, 2] }).send({ kind: "begin" });
  none.send({ kind: "line-lost", universe: 2, words: "busy" }).send({ kind: "line-lost", universe: 1, words: "busy" });
  expect(none.batch.stage).toEqual({ kind: "finished", how: "failed" });
});

test("a journal that fails ends the rack dark where it stands", () => {
  const rack = new DrivenRack({ fixtures: spots(2), steps: [PAN] }).begin().untilStage("moving");
  rack.send({ kind: "journal-failed", words: "the disk is full" });
  expect(rack.batch).toMatchObject({ stage: { kind: "finished", how: "failed" }, trouble: "the disk is full" });
  expect(rack.effects.map(({ kind }) => kind)).toContain("go-dark");
});

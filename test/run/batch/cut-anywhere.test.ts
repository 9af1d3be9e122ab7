import { expect, test } from "vitest";
import { asItStood } from "../../../src/app/rack/kept-rack.ts";
import { openBatch } from "../../../src/run/batch/batch.ts";
import type { EventBody } from "../../../src/run/events/event.ts";
import { rackViewOf } from "../../../src/run/events/rack-view.ts";
import { DrivenRack, rackJobOf, spots } from "../../kit/driven-rack.ts";

const RACK = {
  fixtures: spots(3),
  steps: ["{ sweep: Pan, seconds: 3, passes: 2 }", "{ sweep: Iris, seconds: 2, passes: 2 }"],
};

const JOB = rackJobOf(RACK);

/** All events of a rack run from its beginning to its end, in the order of writing. */
const whole = () => {
  const rack = new DrivenRack(openBatch(JOB.plan, JOB.members, "KM")).begin().untilStage("moving");
  rack.differs("S2").untilStage("between").untilStage("finished");
  return rack.effects.flatMap((effect) => (effect.kind === "write" ? [{ run: effect.run, body: effect.body }] : []));
};

/** The rack as a program that was killed after these events finds it when it is started again. */
const takenUp = (written: readonly { readonly run: string; readonly body: EventBody }[]): DrivenRack => {
  const bodiesOf = (name: string) => written.flatMap(({ run, body }) => (run === name ? [body] : []));
  const view = rackViewOf(bodiesOf(JOB.plan.run));
  const { plan, members } = asItStood(JOB, { view, members: JOB.members.map(({ run }) => bodiesOf(run)) });
  return new DrivenRack(openBatch(plan, members, "KM", view));
};

const EVENTS = whole();
const OPENED = 1 + RACK.fixtures.length;

test("a rack run that was cut off after any of its events, and is taken up again, comes to its end with everything judged", () => {
  const ends = EVENTS.slice(OPENED).map((_, more) => {
    const rack = takenUp(EVENTS.slice(0, OPENED + more))
      .begin()
      .untilStage("finished");
    return { after: OPENED + more, how: rack.batch.stage, closed: rack.closed(), open: openSteps(rack) };
  });
  expect(ends).toEqual(
    ends.map(({ after }) => ({
      after,
      how: { kind: "finished", how: "finished" },
      closed: { S1: "finished", S2: "finished", S3: "finished" },
      open: [],
    })),
  );
  expect(ends.length).toBeGreaterThan(20);
});

test("taken up when only its own end was not written it asks for no line, and ends", () => {
  const rack = takenUp(EVENTS.slice(0, -1)).begin();
  expect(rack.batch.stage).toEqual({ kind: "finished", how: "finished" });
  expect(rack.effects.filter(({ kind }) => kind === "open-line")).toEqual([]);
});

const openSteps = ({ batch }: DrivenRack): readonly string[] =>
  batch.members.flatMap(({ serial, session }) =>
    session.view.steps.flatMap(({ id, judged }) => (judged ? [] : [`${serial} ${id}`])),
  );

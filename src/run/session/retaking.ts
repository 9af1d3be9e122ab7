import type { Frame } from "../../domain/units.ts";
import type { BodyOf, EventBody } from "../events/event.ts";
import { standingOnly } from "../events/taken-back.ts";
import { andThen, stay, uncleared, withEffects } from "../machine/running.ts";
import { holdsWithout } from "./by-hand/holds.ts";
import { lookAt } from "./by-hand/looks.ts";
import { at, type Change, courseOf, write } from "./change.ts";
import { goOn, towards } from "./flow.ts";
import { nextOf } from "./pausing.ts";
import type { Session, Stage } from "./session.ts";

/**
 * Plays a step again from its start, as another attempt. `index` is its place in the run, from 0; `pace` is a factor on its
 * speed, above 0; `broken` is the frame at which the attempt before was broken off.
 */
export const repeat = (session: Session, index: number, pace: number, broken: Frame = 0): Change => {
  const what = pace < 1 ? "slower" : "repeated";
  const open: Session = { ...session, group: session.group.filter((played) => played.index !== index) };
  return andThen(write(open, courseOf(open, { index, frame: broken }, what, pace < 1 ? `pace ${pace}` : "")), (s) =>
    towards(s, { index, frame: 0, pace, lost: false }),
  );
};

/**
 * Goes one step back: what was answered for it is undone, and the step that was left is played again after it. `from` is
 * the place of the step that is left, from 0.
 */
export const back = (session: Session, from: number, broken: Frame = 0): Change => {
  const index = session.job.timeline.steps.slice(0, from).findLastIndex(({ fitted }) => fitted);
  const view = session.view.steps[index];
  if (!view) return stay(session);
  const left = broken > 0 ? write(session, brokenOff(session, from, broken)) : stay(session);
  const corrected = andThen(left, (s) =>
    view.judged ? write(s, { kind: "step-corrected", step: view.id, attempt: view.attempt }) : stay(s),
  );
  return andThen(corrected, (s) =>
    repeat({ ...s, group: s.group.filter((played) => played.index !== from) }, index, 1),
  );
};

const brokenOff = (session: Session, index: number, frame: Frame) => courseOf(session, { index, frame }, "gone-back");

/** Undoes the judgement before this question, and asks for it again. */
export const undoJudgement = (session: Session): Change => {
  const last = session.view.steps
    .map((step, index) => ({ step, index }))
    .filter(({ step }) => step.judged !== undefined && !["not-fitted", "repeat"].includes(step.judged.result))
    .sort((a, b) => b.step.judgedBy - a.step.judgedBy)[0];
  const judgement = last?.step.judged;
  if (!last || !judgement) return stay(session);
  const { rig, attempt } = judgement;
  const again = {
    index: last.index,
    start: session.now,
    end: session.now,
    rig: { worstLate: rig.worst_late_s, dropped: rig.dropped },
    lost: rig.lost,
  };
  const others = session.group.filter(({ index }) => index !== last.index);
  return andThen(
    write({ ...session, group: [again, ...others] }, { kind: "step-corrected", step: last.step.id, attempt }),
    (s) =>
      stay({
        ...s,
        stage: { kind: "asking", index: last.index, attempt, symptoms: judgement.symptoms, note: judgement.note },
      }),
  );
};

/** Whether the answer that was just given can be undone: nothing else has been written since. */
export const canTakeBack = (session: Session): boolean => withdrawing(session) !== undefined;

/**
 * Undoes the answer that was just given by hand, or to a hold point: it counts as not given, and is asked for again. With a
 * hold point the clearance is gone, too.
 */
export const takeBack = (session: Session): Change => {
  const last = withdrawing(session);
  if (last === undefined) return stay(session);
  switch (last.kind) {
    case "hold-confirmed":
      return withdrawHold(session, last);
    case "inspected":
      return last.together ? askAgain(session, groupIn(session.told)) : lookAgain(session, last);
    case "dirt-judged":
      return at(session, { kind: "dirt" });
    case "cleaned":
      return askAgain(session, groupIn(session.told));
    case "reading-taken":
      return askAgain(session, [{ kind: "reading-corrected", reading: last.reading }]);
    default:
      return last satisfies never;
  }
};

type TakenAnswer = BodyOf<"hold-confirmed" | "inspected" | "dirt-judged" | "cleaned" | "reading-taken">;

const withdrawing = ({ told }: Session): TakenAnswer | undefined => {
  const last = told.at(-1);
  switch (last?.kind) {
    case "hold-confirmed":
      // The mains is on: no key takes that back.
      return last.point === "mains-on" ? undefined : last;
    case "inspected":
    case "dirt-judged":
    case "cleaned":
      return last;
    case "reading-taken":
      return last.source === undefined ? last : undefined;
    default:
      return undefined;
  }
};

/** Its note and photo are still there. */
const lookAgain = (session: Session, { inspection, note, photo }: BodyOf<"inspected">): Change =>
  andThen(write(session, { kind: "inspection-corrected", inspection }), (s) =>
    at(s, { ...lookAt(inspection, "again"), note, photo: photo ?? "" }),
  );

/** All that was answered together, from the last to the first. */
const groupIn = (told: readonly EventBody[]): readonly EventBody[] => {
  const others = told.findLastIndex(
    (body) => !((body.kind === "inspected" && body.together) || body.kind === "cleaned"),
  );
  return told
    .slice(others + 1)
    .toReversed()
    .flatMap((body): readonly EventBody[] => {
      if (body.kind === "inspected") return [{ kind: "inspection-corrected", inspection: body.inspection }];
      return body.kind === "cleaned" ? [{ kind: "cleaning-corrected", cleaning: body.cleaning }] : [];
    });
};

const askAgain = (session: Session, corrections: readonly EventBody[]): Change =>
  andThen(
    corrections.reduce<Change>((change, body) => andThen(change, (s) => write(s, body)), stay(session)),
    goOn,
  );

const withdrawHold = (session: Session, { point }: BodyOf<"hold-confirmed">): Change =>
  andThen(write(withdrawn(session, point), { kind: "hold-withdrawn", point }), (s) =>
    s.stage.kind === "holding" ? towards(s, s.stage.next, s.stage.stirs) : goOn(s),
  );

const withdrawn = (session: Session, point: string): Session => ({
  ...uncleared(session),
  holds: holdsWithout(session.holds, point),
});

/**
 * Stops what moves because the area is not clear after all: dark, every axis holds, and the safety page is
 * asked again before the step begins anew.
 */
export const withdrawClearance = (session: Session, frame: number): Change => {
  const { stage: moving } = session;
  if (moving.kind !== "moving" && moving.kind !== "slow-start" && moving.kind !== "stirring") return stay(session);
  const next = nextOf(session, frame);
  const stirs = moving.kind === "stirring" ? moving.answers : moving.kind === "slow-start" ? moving.stirs : undefined;
  const point = "before-moving";
  const stage: Stage = { kind: "holding", point, next: { ...next, frame: 0 }, stirs };
  const isGiven = standingOnly(session.told).some((body) => body.kind === "hold-confirmed" && body.point === point);
  const said = isGiven ? write(session, { kind: "hold-withdrawn", point }) : stay(session);
  return andThen(said, (s) =>
    andThen(write({ ...withdrawn(s, point), stage }, courseOf(s, next, "away")), (held) =>
      withEffects(held, { kind: "go-dark" }),
    ),
  );
};

import type { Frame } from "../../domain/units.ts";
import { andThen, stay } from "../machine/running.ts";
import { type Change, write } from "./change.ts";
import { courseOf } from "./course.ts";
import { towards } from "./flow.ts";
import { stepAt } from "./job.ts";
import type { Session } from "./session.ts";

/**
 * Plays a step again from its start, as another attempt. `index` is its place in the run, from 0; `pace` is a factor on its
 * speed, above 0; `broken` is the frame at which the attempt before was broken off.
 */
export const repeat = (session: Session, index: number, pace: number, broken: Frame = 0): Change => {
  const step = stepAt(session.job, index);
  const attempt = Math.max(1, session.view.steps[index]?.attempt ?? 1);
  const what = pace < 1 ? "slower" : "repeated";
  const open: Session = { ...session, group: session.group.filter((played) => played.index !== index) };
  return andThen(
    write(open, {
      kind: "course-changed",
      step: step.id,
      attempt,
      frame: broken,
      what,
      detail: pace < 1 ? `pace ${pace}` : "",
    }),
    (s) => towards(s, { index, frame: 0, pace, lost: false }),
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

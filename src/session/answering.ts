import type { ReportedSymptom } from "../record/event.ts";
import type { Frame } from "../units.ts";
import { holdsAfter } from "./by-hand/holds.ts";
import { andThen, type Change, stay, wishing, write } from "./change.ts";
import { find, listensWrongly } from "./finding.ts";
import { askGroup, confirmSilence, goOn, towards } from "./flow.ts";
import type { Stamped } from "./input.ts";
import { stepAt } from "./job.ts";
import { judgeStep } from "./judging.ts";
import type { Next } from "./next.ts";
import { placedAt } from "./placing.ts";
import { play } from "./playing.ts";
import type { Session, Stage } from "./session.ts";

type Asking = Extract<Stage, { kind: "asking" }>;

/** Answers about a step that is over. */
export const answer = (session: Session, stage: Asking, input: Stamped): Change => {
  switch (input.kind) {
    case "symptom":
      return stay({ ...session, stage: { ...stage, symptoms: toggled(stage.symptoms, input.symptom) } });
    case "note":
      return stay({ ...session, stage: { ...stage, note: input.text.replaceAll("\0", "") } });
    case "judge":
      return judged(session, stage, input.result);
    case "confirm":
      return judged(session, stage, verdictOf(session, stage));
    case "undo":
      return undo(session, stage);
    case "again":
      return repeat(session, stage.index, 1);
    case "slower":
      return repeat(session, stage.index, (session.view.steps[stage.index]?.pace ?? 1) / 2);
    case "back":
      return back(session, stage.index);
    case "away":
      return leave(session, stage.index);
    default:
      return stay(session);
  }
};

const toggled = (symptoms: readonly ReportedSymptom[], one: ReportedSymptom): readonly ReportedSymptom[] => {
  const others = symptoms.filter((other) => other.symptom !== one.symptom || other.function !== one.function);
  return others.length < symptoms.length ? others : [...symptoms, one];
};

/** "Done": a named symptom is a fail, a press that names none is unsure, silence is a pass. */
const verdictOf = (session: Session, stage: Asking): "fail" | "unsure" | "pass" => {
  if (stage.symptoms.length > 0) return "fail";
  const step = session.view.steps[stage.index];
  // Where it is timed a press says that it has arrived, and nothing is wrong with that.
  return step && step.routine !== "stopwatch" && step.presses.length > 0 ? "unsure" : "pass";
};

const judged = (session: Session, stage: Asking, result: "pass" | "fail" | "unsure" | "not-asked"): Change => {
  const played = session.group.find(({ index }) => index === stage.index);
  if (!played) throw new Error(`Bug: asked about step ${stage.index}, which was not played`);
  const symptoms = result === "pass" || result === "not-asked" ? [] : stage.symptoms;
  return andThen(judgeStep(session, played, result, symptoms, stage.note, "attended"), (s) =>
    listensWrongly(s, stage.index) ? find(s, stage.index, []) : placeOrAsk(s, stage.index),
  );
};

/** Where it was pressed is shown before anything else is asked. */
const placeOrAsk = (session: Session, index: number): Change => {
  const placed = placedAt(session, index);
  return placed ? stay({ ...session, stage: placed }) : askGroup(session);
};

/** Takes back the last symptom; with none named, the judgement before this question, which is then asked again. */
const undo = (session: Session, stage: Asking): Change =>
  stage.symptoms.length > 0
    ? stay({ ...session, stage: { ...stage, symptoms: stage.symptoms.slice(0, -1) } })
    : undoJudgement(session);

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

/** Nobody is at the bench: dark, the question stays open, and before anything moves again the area is asked about. */
export const leave = (session: Session, index: number): Change => {
  const left: Session = { ...session, cleared: false, slowShown: false };
  const course = courseOf(left, { index, frame: 0, pace: 1, lost: false }, "away");
  return andThen(write(left, course), (s) => wishing(s, { kind: "go-dark" }));
};

/** The same step from its start, as another attempt; `broken` is the frame at which the one before was broken off. */
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

/** One step back; what was answered for it is taken back. */
export const back = (session: Session, from: number, broken: Frame = 0): Change => {
  const index = session.job.timeline.steps.slice(0, from).findLastIndex(({ fitted }) => fitted);
  const view = session.view.steps[index];
  if (!view) return stay(session);
  const left = broken > 0 ? write(session, brokenOff(session, from, broken)) : stay(session);
  const corrected = andThen(left, (s) =>
    view.judged ? write(s, { kind: "step-corrected", step: view.id, attempt: view.attempt }) : stay(s),
  );
  return andThen(corrected, (s) => repeat(s, index, 1));
};

const brokenOff = (session: Session, index: number, frame: Frame) =>
  courseOf(session, { index, frame, pace: 1, lost: false }, "gone-back");

/** Answers to a safety point, to "did you watch these", and to the ends of pauses. */
export const confirmHold = (session: Session, stage: Extract<Stage, { kind: "holding" }>, input: Stamped): Change => {
  if (input.kind !== "confirm" && input.kind !== "press") return stay(session);
  return andThen(write(session, { kind: "hold-confirmed", point: stage.point }), (s) => {
    if (stage.point === "before-moving") return towards({ ...s, cleared: true }, stage.next);
    const powered: Session = { ...s, holds: holdsAfter(s.holds, "mains-on") };
    return andThen(wishing(powered, { kind: "mains-on" }), (on) => play(on, stage.next));
  });
};

export const answerSilence = (
  session: Session,
  { indexes }: Extract<Stage, { kind: "confirming" }>,
  input: Stamped,
): Change => {
  switch (input.kind) {
    case "confirm":
      return confirmSilence(session, "there");
    case "decline":
      return confirmSilence(session, "not there");
    case "undo":
      return undoJudgement(session);
    case "away":
      return leave(session, indexes[0] ?? 0);
    default:
      return stay(session);
  }
};

/** After a freeze it goes on at the same frame; after being away everything is confirmed anew and the step starts again. */
export const endPause = (session: Session, stage: Extract<Stage, { kind: "paused" }>, input: Stamped): Change => {
  if (input.kind !== "go-on" && input.kind !== "confirm" && input.kind !== "press") return stay(session);
  const next: Next = stage.why === "away" ? { ...stage.next, frame: 0 } : stage.next;
  const what = stage.why === "away" ? "back-again" : "went-on";
  return andThen(write({ ...session, trouble: undefined }, courseOf(session, next, what)), (s) =>
    s.cleared ? play(s, next) : towards(s, next),
  );
};

/** The line is back: one person agrees, then slowly, then on from the same frame. */
export const endLoss = (session: Session, stage: Extract<Stage, { kind: "line-lost" }>, input: Stamped): Change => {
  if (!stage.back || (input.kind !== "confirm" && input.kind !== "press")) return stay(session);
  return andThen(
    write({ ...session, trouble: undefined, cleared: true }, courseOf(session, stage.next, "resumed")),
    (s) => {
      if (stage.asked) return stay({ ...s, stage: stage.asked });
      return isOver(s, stage.next.index) ? goOn(s) : towards(s, stage.next);
    },
  );
};

/** Nothing of it is to be gone on with: it was answered for, or homes by itself. */
const isOver = ({ job, view }: Session, index: number): boolean =>
  stepAt(job, index).routine === "power-up" || view.steps[index]?.judged !== undefined;

const courseOf = (session: Session, next: Next, what: "away" | "back-again" | "went-on" | "resumed" | "gone-back") =>
  ({
    kind: "course-changed",
    step: stepAt(session.job, next.index).id,
    attempt: Math.max(1, session.view.steps[next.index]?.attempt ?? 1),
    frame: next.frame,
    what,
    detail: "",
  }) as const;

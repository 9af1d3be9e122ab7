import { safeText } from "../domain/problem/shown-text.ts";
import { ROUTINES, type StepResult } from "../domain/trade/routines.ts";
import { type Frame, framesIn, type Seconds, secondsOf } from "../domain/units.ts";
import type { CompiledStep } from "../plan/timeline.ts";
import { spanInWords } from "../reports/status-words.ts";
import type { StepView } from "../run/events/view.ts";
import { functionsInWords, stepAt, stepInWords } from "../run/session/job.ts";
import type { Session } from "../run/session/session.ts";
import type { Moving } from "./sight.ts";
import { symptomInWords } from "./symptom-pages.ts";

/** What moves in a step; when everything does, what is done. */
export const headlineOf = (step: CompiledStep): string =>
  step.functions.length > 0 ? functionsInWords(step) : ROUTINES[step.routine].words;

const CAME_OUT: Readonly<Record<StepResult, string>> = {
  pass: "passed",
  fail: "failed",
  unsure: "unsure",
  "not-watched": "not watched",
  "not-fitted": "not fitted",
  "not-asked": "not asked",
  repeat: "computer too slow: to be repeated",
};

/** The result that was given last, and whether it is on disk. Empty before the first. */
export const lastJudged = (session: Session): string => {
  const last = session.view.steps
    .map((step, index) => ({ step, index }))
    .filter(({ step }) => step.judged && step.judged.result !== "not-fitted")
    .toSorted((a, b) => a.step.judgedBy - b.step.judgedBy)
    .at(-1);
  return last ? judgedInWords(session, last.step, last.index) : "";
};

/**
 * What a step was judged, in words: "pan: full sweep failed (pan jerks or hesitates). Saved." `index`
 * is the step's place in the run, from 0.
 */
export const judgedInWords = (session: Session, { judged, judgedBy }: StepView, index: number): string => {
  if (!judged) return "";
  const about = [...judged.symptoms.map(symptomInWords), ...(judged.note ? [`"${safeText(judged.note)}"`] : [])];
  const why = about.length > 0 ? ` (${about.join("; ")})` : "";
  return `${stepInWords(stepAt(session.job, index))} - ${CAME_OUT[judged.result]}${why}. ${isKept(session, judgedBy) ? "Saved." : "Not saved yet."}`;
};

/**
 * Whether a result is on disk, and so may be called saved. `judgedBy` is the sequence
 * number of the event that judged it, from 1.
 */
export const isKept = ({ stored }: Session, judgedBy: number): boolean => stored >= judgedBy;

/** How many steps came to which result, in words: "24 passed, 1 failed". */
export const resultsTally = ({ view }: Session): string => {
  const counts = new Map<StepResult, number>();
  for (const { judged } of view.steps) {
    const result = judged?.result ?? "not-asked";
    counts.set(result, (counts.get(result) ?? 0) + 1);
  }
  return [...counts].map(([result, count]) => `${count} ${CAME_OUT[result]}`).join(", ");
};

/** "once", "3 times". `count` is 1 at least. */
export const timesInWords = (count: number): string => (count === 1 ? "once" : `${count} times`);

/** How long the step still plays after this frame. */
export const leftOfStep = (step: CompiledStep, frame: Frame): Seconds => secondsOf(Math.max(0, step.frames - frame));

/** The steps still to be played after the one at `index`, counted from 0, in their order. */
export const stepsAhead = ({ job, view, group }: Session, index: number): readonly CompiledStep[] =>
  job.timeline.steps.filter(
    ({ fitted }, at) => fitted && at > index && !view.steps[at]?.judged && !group.some((played) => played.index === at),
  );

/** How long all steps still to be played after the one at `index`, counted from 0, take together. */
const leftOfRun = (session: Session, index: number): Seconds =>
  stepsAhead(session, index).reduce((sum, { frames }) => sum + secondsOf(frames), 0);

/** What the lamp or the homing means for the eyes just now; empty when nothing has to be said. */
export const conditionInWords = (session: Session, stage: Moving, frame: Frame): string => {
  if (stage.step.routine === "power-up") return startingInWords(session, stage.step, frame);
  if (frame < stage.step.leadIn) return "It moves to the start, beam shut.";
  return warmingInWords(session, stage, frame);
};

const startingInWords = ({ job }: Session, step: CompiledStep, frame: Frame): string => {
  const { powerUp, lamp } = job.timeline.profile;
  if (frame < step.leadIn + framesIn(powerUp)) return "It homes by itself and ignores DMX meanwhile.";
  return lamp.kind !== "discharge"
    ? "Homed. The light can come on."
    : `Homed. The lamp strikes within about ${spanInWords(lamp.strike)}.`;
};

/** A lamp that has not settled is judged neither for colour nor for brightness. */
const warmingInWords = ({ job, litSince }: Session, stage: Moving, frame: Frame): string => {
  const { lamp } = job.timeline.profile;
  if (lamp.kind !== "discharge" || litSince === undefined || stage.step.beam === "shut") return "";
  const left: Seconds = litSince + lamp.warm - (stage.since + secondsOf(frame));
  return left > 0 ? `Lamp warming up, ${spanInWords(left)} more: do not judge colour or brightness yet.` : "";
};

/** How long a movement and the rest of the run take from this frame on: "7 s left in this step, 3 min to the end." */
export const timeLeftInWords = (session: Session, { step, index }: Moving, frame: Frame): string => {
  const left = leftOfStep(step, frame);
  const times = `${spanInWords(left)} left in this step, ${spanInWords(left + leftOfRun(session, index))} to the end.`;
  // It says itself when it is over.
  return step.routine === "self-test" ? `At most ${times}` : times;
};

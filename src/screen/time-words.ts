import type { Session } from "../session/session.ts";
import type { CompiledStep } from "../timeline/timeline.ts";
import { type Frame, type Seconds, secondsOf } from "../units.ts";

/** "12 s", "2 min 40 s". */
export const spanInWords = (time: Seconds): string => {
  const whole = Math.max(0, Math.ceil(time));
  const minutes = Math.floor(whole / 60);
  const seconds = whole % 60;
  if (minutes === 0) return `${seconds} s`;
  return seconds === 0 ? `${minutes} min` : `${minutes} min ${seconds} s`;
};

export const leftOfStep = (step: CompiledStep, frame: Frame): Seconds => secondsOf(Math.max(0, step.frames - frame));

/** The steps still to be played after the one at `index`, in their order. */
export const stepsAhead = ({ job, view, group }: Session, index: number): readonly CompiledStep[] =>
  job.timeline.steps.filter(
    ({ fitted }, at) => fitted && at > index && !view.steps[at]?.judged && !group.some((played) => played.index === at),
  );

export const leftOfRun = (session: Session, index: number): Seconds =>
  stepsAhead(session, index).reduce((sum, { frames }) => sum + secondsOf(frames), 0);

import { type Frame, type Seconds, secondsOf } from "../domain/units.ts";
import type { CompiledStep } from "../plan/timeline.ts";
import type { Session } from "../run/session/session.ts";

/** How long the step still plays after this frame. */
export const leftOfStep = (step: CompiledStep, frame: Frame): Seconds => secondsOf(Math.max(0, step.frames - frame));

/** The steps still to be played after the one at `index`, counted from 0, in their order. */
export const stepsAhead = ({ job, view, group }: Session, index: number): readonly CompiledStep[] =>
  job.timeline.steps.filter(
    ({ fitted }, at) => fitted && at > index && !view.steps[at]?.judged && !group.some((played) => played.index === at),
  );

/** How long all steps still to be played after the one at `index`, counted from 0, take together. */
export const leftOfRun = (session: Session, index: number): Seconds =>
  stepsAhead(session, index).reduce((sum, { frames }) => sum + secondsOf(frames), 0);

import type { Session } from "../session/session.ts";
import type { SimLine } from "../sim/line.ts";
import { type Frame, framesIn } from "../units.ts";

/**
 * How many frames of its life a simulated fixture has behind it when a run begins or goes on: none when its mains is still
 * to be switched on in the run, else it is up, lit and warm.
 */
export const framesBefore = ({ job, view }: Session): Frame => {
  const { profile, steps } = job.timeline;
  const next = steps.find(({ fitted, id }) => fitted && !view.steps.find((step) => step.id === id)?.judged);
  return next?.routine === "power-up" ? 0 : framesIn(profile.powerUp + profile.lamp.strike + profile.lamp.warm);
};

export const warmUp = (line: SimLine, frames: Frame): void => {
  if (frames === 0) return;
  line.mains("on");
  line.pass(frames);
};

/** The same bit by bit, while the person reads the first page, which would else wait for it. */
export const warmUpMeanwhile = (line: SimLine, frames: Frame): void => {
  if (frames > 0) line.mains("on");
  passMeanwhile(line, frames);
};

/** Lets time pass for simulated fixtures, a bit whenever nothing else is to be done. */
export const passMeanwhile = (line: SimLine, frames: Frame): void => {
  const bit = Math.min(frames, 100);
  line.pass(bit);
  if (frames > bit) setTimeout(passMeanwhile, 1, line, frames - bit);
};

import { type Seconds, secondsOf } from "../domain/units.ts";
import type { CompiledStep, Timeline } from "./timeline.ts";

/** What a sequence will cost before anything moves. */
export interface Plan {
  readonly steps: readonly PlannedStep[];
  readonly total: Seconds;
  /** With eyes on the fixture: everything but homing and soaking. */
  readonly watched: Seconds;
  /** What the fixture's own speed allows at best, without dwelling. */
  readonly floor: Seconds;
}

export interface PlannedStep {
  readonly step: CompiledStep;
  readonly start: Seconds;
  readonly length: Seconds;
  readonly watched: Seconds;
}

const UNWATCHED: readonly string[] = ["soak"];

/** When each step of a timeline begins, how long it lasts and how much of that is watched, in seconds. */
export const planOf = ({ steps }: Timeline): Plan => {
  let start: Seconds = 0;
  const planned = steps.map((step) => {
    const length = secondsOf(step.frames);
    const entry = { step, start, length, watched: UNWATCHED.includes(step.routine) ? 0 : length };
    start += length;
    return entry;
  });
  return {
    steps: planned,
    total: start,
    watched: planned.reduce((sum, { watched }) => sum + watched, 0),
    floor: steps.reduce((sum, { floor }) => sum + floor, 0),
  };
};

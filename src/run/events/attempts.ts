import type { Press } from "../../diagnosis/places/watch.ts";
import type { StepResult } from "../../domain/trade/routines.ts";
import type { Frame, Seconds } from "../../domain/units.ts";
import type { BodyOf } from "./event.ts";

/** One playing of a step from its beginning, and what was pressed in it. */
export interface Attempt {
  readonly number: number;
  /** The step as it was compiled for this attempt, where that was not as planned. */
  readonly played: BodyOf<"step-started">["played"];
  readonly presses: readonly Press[];
  /** Broken off at this frame; undefined when it was played to its end, or when nobody knows. */
  readonly until: Frame | undefined;
  /** What became of it: its result, or "again" when it was played once more without one. */
  readonly came: StepResult | "again" | undefined;
}

/** The attempts at one step after one more event that speaks of it. */
export const attemptsAfter = (
  attempts: readonly Attempt[],
  body: BodyOf<"step-started" | "pressed" | "press-corrected" | "step-judged" | "course-changed">,
): readonly Attempt[] => {
  if (body.kind === "step-started") return [...attempts, begun(body)];
  return attempts.map((one) => (one.number === body.attempt ? changed(one, body) : one));
};

const begun = ({ attempt, played }: BodyOf<"step-started">): Attempt => ({
  number: attempt,
  played,
  presses: [],
  until: undefined,
  came: undefined,
});

const changed = (
  one: Attempt,
  body: BodyOf<"pressed" | "press-corrected" | "step-judged" | "course-changed">,
): Attempt => {
  if (body.kind === "pressed") return { ...one, presses: [...one.presses, pressIn(body)] };
  if (body.kind === "press-corrected") return { ...one, presses: one.presses.slice(0, -1) };
  if (body.kind === "step-judged") return { ...one, came: body.result };
  const until = BREAKS_OFF.includes(body.what) && body.frame > 0 ? body.frame : one.until;
  return AGAIN.includes(body.what) ? { ...one, until, came: one.came ?? "again" } : { ...one, until };
};

const pressIn = ({ frame, after_s: after, give_s }: BodyOf<"pressed">): Press =>
  give_s === undefined ? { frame, after } : { frame, after, give: give_s };

const AGAIN: readonly BodyOf<"course-changed">["what"][] = ["repeated", "slower"];
const BREAKS_OFF: readonly BodyOf<"course-changed">["what"][] = [...AGAIN, "gone-back", "away", "stopped"];

/** How the computer itself behaved over a whole run: every attempt at every step, also those that were played again. */
export interface RigOfRun {
  readonly worst_late_s: Seconds;
  /** Attempts that could have been taken for a fault of the fixture and so do not count. */
  readonly spoilt: number;
  /** In these, frames that were not sent, and how often the DMX line was lost. */
  readonly dropped: number;
  readonly lost: number;
}

export const STEADY_RIG: RigOfRun = { worst_late_s: 0, spoilt: 0, dropped: 0, lost: 0 };

/** How late the computer was in a run, with one more attempt judged. */
export const rigAfter = (before: RigOfRun, { result, rig }: BodyOf<"step-judged">): RigOfRun => {
  const worst_late_s = Math.max(before.worst_late_s, rig.worst_late_s);
  if (result !== "repeat") return { ...before, worst_late_s };
  return {
    worst_late_s,
    spoilt: before.spoilt + 1,
    dropped: before.dropped + rig.dropped,
    lost: before.lost + (rig.lost ? 1 : 0),
  };
};

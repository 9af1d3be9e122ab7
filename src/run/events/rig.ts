import type { Seconds } from "../../domain/units.ts";
import type { BodyOf } from "./event.ts";

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

import { keysOf } from "../keys.ts";
/** What can come of a step. Only pass, fail and unsure say something about the fixture. */
export const RESULTS = {
  pass: "pass",
  fail: "fail",
  unsure: "unsure",
  "not-watched": "not watched",
  "not-fitted": "not fitted",
  "not-asked": "not asked",
  /** The rig itself misbehaved (late or lost frames): says nothing about the fixture, to be repeated. */
  repeat: "to be repeated",
} as const;

export type StepResult = keyof typeof RESULTS;
export const STEP_RESULTS = keysOf(RESULTS);

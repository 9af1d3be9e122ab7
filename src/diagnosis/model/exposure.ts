import type { FunctionId } from "../../domain/trade/functions.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import { SYMPTOMS, type SymptomId } from "../../domain/trade/symptoms.ts";
import type { Probability } from "../../domain/units.ts";
import { chanceOf } from "./chances.ts";
import type { Condition } from "./knowledge/entry.ts";
import type { Fitted } from "./network.ts";
import type { Observation } from "./observation.ts";

/** What a result tells of symptoms that were not reported. All starter values, judgement. */
const HEEDED: Readonly<Record<Observation["result"], Probability>> = {
  pass: 1,
  /** Who reports one thing may leave out another. */
  fail: 0.3,
  unsure: 0.2,
  "not-watched": 0,
  "not-fitted": 0,
  "not-asked": 0,
  repeat: 0,
};
const ATTENTION: Readonly<Record<Observation["watched"], Probability>> = { attended: 1, confirmed: 0.7, no: 0 };

/** How surely this step would have made the symptom known, had its fault shown itself. 0: it could not have been seen here. */
export function exposure(observation: Observation, symptom: SymptomId): Probability {
  const seen = hiddenInTheDark(observation, symptom) ? 0 : chanceOf(symptom, observation.routine);
  return seen * HEEDED[observation.result] * ATTENTION[observation.watched] * share(observation.functions.length);
}

/** Nobody watches more than three things at once. */
const share = (functions: number): Probability => Math.min(1, 3 / Math.max(1, functions));

/** Wide pan and tilt movements run with the shutter closed: what only the light shows cannot be seen then. */
const DARK: ReadonlySet<RoutineId> = new Set(["sweep", "short-sweep", "shake", "power-up", "home"]);
const AXES: ReadonlySet<FunctionId> = new Set(["Pan", "Tilt"]);
const LIGHTS_UP: ReadonlySet<SymptomId> = new Set(["no-strike", "slow-strike", "light-out", "cuts-out"]);
const hiddenInTheDark = ({ routine, functions }: Observation, symptom: SymptomId): boolean =>
  SYMPTOMS[symptom].by === "light" &&
  DARK.has(routine) &&
  functions.every(({ function: id }) => AXES.has(id)) &&
  !((routine === "power-up" || routine === "home") && LIGHTS_UP.has(symptom));

/** How far a fault comes out in a step, by its own condition. Starter values, judgement. */
export function expression(when: Condition, observation: Observation): Probability {
  const { litMinutes, routine, attitude } = observation;
  switch (when) {
    case "always":
      return 1;
    case "warm":
      return warmth(litMinutes);
    case "cold":
      return 1.2 - warmth(litMinutes);
    case "hung":
      return attitude === "hung" ? 1 : 0.4;
    case "shaken":
      return SHAKES[routine] ?? 0.35;
    case "now-and-then":
      return seenAmong(observation.movements ?? USUAL_MOVEMENTS);
  }
}

const USUAL_MOVEMENTS = 2;
const ONCE_IN_USUAL: Probability = 0.35;
/** What comes now and then is the likelier seen the more often a thing moves: each there and back is a chance of its own. */
const seenAmong = (movements: number): Probability =>
  1 - (1 - ONCE_IN_USUAL) ** (Math.min(movements, 40) / USUAL_MOVEMENTS);

const SHAKES: Readonly<Partial<Record<RoutineId, Probability>>> = { shake: 1, snap: 0.6, "power-up": 0.4 };
/** Rises from a little at once to fully after ten minutes of light. */
const warmth = (litMinutes: number): Probability => Math.min(1, 0.2 + 0.08 * Math.max(0, litMinutes));

/** Parallel copies in one mechanism: a pass of cyan says nothing of magenta. Both functions of one gobo wheel are one copy. */
export const copyOf = ({ function: id }: Fitted): string =>
  id.startsWith("Blade") ? id.slice(0, "Blade1".length) : id.replace(/Pos$/, "");

import { FUNCTIONS, type FunctionId } from "../../domain/trade/functions.ts";
import { type MechanismId, mechanismOf } from "../../domain/trade/mechanisms.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import { SYMPTOMS, type SymptomId } from "../../domain/trade/symptoms.ts";
import type { Frame } from "../../domain/units.ts";
import type { FixtureBuild } from "../build.ts";

/** What the observer is asked to watch. */
export interface WatchedStep {
  readonly functions: readonly FunctionId[];
  readonly routine: RoutineId;
  readonly frames: Frame;
  /** How many fixtures the same pair of eyes watches at once, this one among them; 1 when not said. */
  readonly together?: number;
}

/** Something that caught the eye or ear in this frame. */
export type Notice =
  /** "There!": worth a press, not yet understood. */
  { readonly kind: "there"; readonly function: FunctionId } | Named;

/** Understood: this symptom. */
export interface Named {
  readonly kind: "symptom";
  readonly symptom: SymptomId;
  readonly function: FunctionId | undefined;
  /** The function that was being watched when it was noticed. */
  readonly from: FunctionId | undefined;
  /** At once, worth a press; or only on thinking back when the step is over. */
  readonly when: "at once" | "afterwards";
  /** How far above what can just be noticed: under 1.5 is a doubtful case. */
  readonly clear: number;
}

/** What a technician calls the same thing on different mechanisms; the first name that the mechanism knows is used. */
const NAMES: Partial<Record<SymptomId, readonly SymptomId[]>> = {
  slow: ["late-flag", "slow"],
  "wrong-place": ["wrong-shade", "half-in", "wrong-place"],
  "swings-on": ["swings-on", "jerks"],
  hunts: ["hunts", "jerks"],
  creeps: ["creeps", "slips-back", "moved-after"],
  "slips-back": ["slips-back", "creeps", "moved-after"],
  "side-differs": ["side-differs", "moved-after"],
  "short-range": ["short-range", "stops-short"],
  inverted: ["inverted", "wrong-place"],
  knocks: ["knocks", "rattles"],
  ticks: ["ticks", "rattles"],
  "tilt-matters": ["tilt-matters", "moved-after"],
};
/** Blades keep the plain word although their mechanism could carry the other. */
const PLAIN: readonly MechanismId[] = ["framing-blades"];
/** What turns is judged by how it turns. */
const TURNING: Partial<Record<SymptomId, SymptomId>> = {
  jerks: "uneven-turning",
  stalls: "uneven-turning",
  slow: "uneven-turning",
  creeps: "uneven-turning",
  "slips-back": "uneven-turning",
  "wrong-place": "misses-angle",
  "side-differs": "misses-angle",
  "moved-after": "misses-angle",
};

/** The symptom under the name that fits this function, or undefined when nobody would report it there. */
export const named = (
  build: FixtureBuild,
  id: FunctionId,
  seen: SymptomId,
): { readonly symptom: SymptomId; readonly function: FunctionId | undefined } | undefined => {
  const mechanism = mechanismIn(build, id);
  const turns = build.parts.some((part) => part.function === id && part.kind === "turn");
  const symptom = turns ? (TURNING[seen] ?? seen) : seen;
  const names = PLAIN.includes(mechanism) ? [symptom] : (NAMES[symptom] ?? [symptom]);
  const known = names.find((name) => shownBy(name, mechanism));
  if (known) return { symptom: known, function: id };
  return ownMechanism(symptom) ? { symptom, function: undefined } : undefined;
};

const mechanismIn = (build: FixtureBuild, id: FunctionId): MechanismId => {
  const part = build.parts.find((found) => found.function === id);
  return mechanismOf(id, part?.kind === "wheel" ? part.wheel : undefined);
};

const shownBy = (symptom: SymptomId, mechanism: MechanismId): boolean => {
  const on: readonly MechanismId[] | "fixture" = SYMPTOMS[symptom].on;
  return on !== "fixture" && on.includes(mechanism);
};

/** Symptoms of the fixture as a whole, or of a mechanism that no function stands for. */
const HAVE_FUNCTIONS = new Set<MechanismId>(Object.values(FUNCTIONS).map(({ mechanism }) => mechanism));
const ownMechanism = (symptom: SymptomId): boolean => {
  const on: readonly MechanismId[] | "fixture" = SYMPTOMS[symptom].on;
  return on === "fixture" || on.some((mechanism) => !HAVE_FUNCTIONS.has(mechanism)) || on.includes("control");
};

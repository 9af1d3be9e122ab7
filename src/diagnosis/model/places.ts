import { MECHANISM_IDS, type MechanismId } from "../../domain/trade/mechanisms.ts";
import { SYMPTOM_IDS, SYMPTOMS, type SymptomId } from "../../domain/trade/symptoms.ts";

/** Where the model keeps a symptom: a moving mechanism has its own, everything else belongs to the fixture as a whole. */
export type Place = MechanismId | "fixture";

/** A symptom at a place, an inspection, or something that nobody put a name to. */
export type FindingId = `${Place}/${SymptomId}` | `inspection/${string}` | `${Place}/unnamed`;

const MOVING: ReadonlySet<MechanismId> = new Set(SYMPTOMS["no-move"].on);
export const isMoving = (mechanism: MechanismId): boolean => MOVING.has(mechanism);
export const MOVING_MECHANISMS = MECHANISM_IDS.filter(isMoving);

export const canShow = (mechanism: MechanismId, symptom: SymptomId): boolean => {
  const on: readonly MechanismId[] | "fixture" = SYMPTOMS[symptom].on;
  return on !== "fixture" && on.includes(mechanism);
};

/** The mechanism itself if it moves and can show this; else the fixture. */
export const placeOf = (mechanism: MechanismId, symptom: SymptomId): Place =>
  isMoving(mechanism) && canShow(mechanism, symptom) ? mechanism : "fixture";

export const findingAt = (place: Place, symptom: SymptomId): FindingId => `${place}/${symptom}`;

/** Symptoms that only a moving mechanism shows: without a function nobody knows whose they are. */
export const belongsToMover = (symptom: SymptomId): boolean => {
  const on: readonly MechanismId[] | "fixture" = SYMPTOMS[symptom].on;
  return on !== "fixture" && on.every(isMoving);
};

/** Every place and symptom that a fixture with these mechanisms has. */
export const findingsOf = (
  fitted: ReadonlySet<MechanismId>,
): readonly { readonly place: Place; readonly symptom: SymptomId }[] => [
  ...MOVING_MECHANISMS.filter((place) => fitted.has(place)).flatMap((place) =>
    SYMPTOM_IDS.filter((symptom) => canShow(place, symptom)).map((symptom) => ({ place, symptom })),
  ),
  ...SYMPTOM_IDS.map((symptom) => ({ place: "fixture" as const, symptom })),
];

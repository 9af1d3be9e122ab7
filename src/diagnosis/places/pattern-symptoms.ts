import type { Travel } from "../../data/profile/profile.ts";
import type { MechanismId } from "../../domain/trade/mechanisms.ts";
import { SYMPTOMS, type SymptomId } from "../../domain/trade/symptoms.ts";
import type { PatternBelief } from "./beliefs.ts";
import type { Spread } from "./spread.ts";

/**
 * The symptoms that a settled pattern is for the fault model, as far as this mechanism can show them. Turning round says play,
 * not a place, and has no symptom of its own.
 */
export const patternSymptoms = (
  { pattern, place }: PatternBelief,
  travel: Travel,
  mechanism: MechanismId,
): readonly SymptomId[] => {
  const symptom = symptomOf(pattern.kind, place !== undefined && liesAtAnEnd(travel, place));
  const on: readonly MechanismId[] | "fixture" = symptom === undefined ? [] : SYMPTOMS[symptom].on;
  return symptom !== undefined && on.includes(mechanism) ? [symptom] : [];
};

/** One direction close to an end is how a stop shows itself. */
const symptomOf = (kind: PatternBelief["pattern"]["kind"], atAnEnd: boolean): SymptomId | undefined => {
  switch (kind) {
    case "position":
      return "at-one-place";
    case "one-way":
      return atAnEnd ? "near-an-end" : "one-way-only";
    case "low-end":
    case "high-end":
    case "both-ends":
      return "near-an-end";
    case "no-place":
      return "at-no-place";
    case "turn-rounds":
      return undefined;
  }
};

/** All of it within the outer twentieth of the travel. */
const liesAtAnEnd = ({ from, to }: Travel, { low, high }: Spread): boolean => {
  const [near, far] = [low, high].map((place) => (place - from) / (to - from));
  return Math.max(near ?? 0, far ?? 0) <= 0.05 || Math.min(near ?? 1, far ?? 1) >= 0.95;
};

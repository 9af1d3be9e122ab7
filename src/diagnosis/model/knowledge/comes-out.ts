import { SYMPTOM_IDS, type SymptomId } from "../../../domain/trade/symptoms.ts";
import { EFFECTS, type EffectId, shownOn } from "./effects.ts";
import type { Condition } from "./entry.ts";
import { type FaultId, knownFault } from "./faults.ts";

/** When an effect comes out, and why; whatever fault it belongs to. */
interface ComesOut {
  readonly when: Condition;
  readonly because: string;
}

/**
 * Effects that a step at the bench shows only under a condition: all others show in any movement. Once for all faults, from
 * mechanics; judgement.
 */
export const COMES_OUT: Readonly<Partial<Record<EffectId, ComesOut>>> = {
  "weight-wins": {
    when: "weighed",
    because: "a weight pulls a part along its way only as far as the head leans that way",
  },
  "supply-sags": {
    when: "loaded",
    because: "one motor takes little: a weak supply drops when many start at once",
  },
  "weak-drive": {
    when: "hurried",
    because: "the torque of a stepper falls with its speed, and haste asks for most of it",
  },
  "by-the-angle": {
    when: "turned",
    because: "wires open and close where yoke and head bend them, and nowhere else",
  },
  scorches: {
    when: "warm",
    because: "a bad joint is heated by what flows through it, and that takes minutes",
  },
};

/**
 * When a fault brings a symptom: by its own condition; where it has none, by that of the effect that brings it most often.
 *
 * @param symptom - undefined for anything else than a symptom, as for an inspection
 */
export function comesOut(id: FaultId, symptom: SymptomId | undefined): Condition {
  const { when } = knownFault(id);
  return when === "always" && symptom !== undefined ? (byEffects(id).get(symptom) ?? "always") : when;
}

const known = new Map<FaultId, ReadonlyMap<SymptomId, Condition>>();

/** Symptoms that come out under a condition; worked out once for each fault. */
function byEffects(id: FaultId): ReadonlyMap<SymptomId, Condition> {
  const conditions = known.get(id) ?? conditionsOf(id);
  known.set(id, conditions);
  return conditions;
}

function conditionsOf(id: FaultId): ReadonlyMap<SymptomId, Condition> {
  const { does, mechanism } = knownFault(id);
  if (!does.some(({ effect }) => COMES_OUT[effect])) return new Map();
  const shown = does.map(({ effect, often }) => ({ effect, often, shows: shownOn(effect, mechanism, EFFECTS) }));
  return new Map(
    SYMPTOM_IDS.flatMap((symptom) => {
      const [most] = shown
        .map(({ effect, often, shows }) => ({ effect, often: often * (shows.get(symptom) ?? 0) }))
        .sort((a, b) => b.often - a.often);
      const condition = most && most.often > 0 ? COMES_OUT[most.effect] : undefined;
      return condition ? [[symptom, condition.when] as const] : [];
    }),
  );
}

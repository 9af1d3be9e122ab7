import type { MechanismId } from "../../../domain/trade/mechanisms.ts";
import type { SymptomId } from "../../../domain/trade/symptoms.ts";
import type { Probability } from "../../../domain/units.ts";
import { CONSEQUENCES } from "./consequences.ts";
import type { PhysicalEffect, Shown } from "./effect.ts";
import { DRIVE_EFFECTS } from "./effects-drive.ts";
import { FIT_EFFECTS } from "./effects-fit.ts";
import { FRICTION_EFFECTS } from "./effects-friction.ts";
import { WHOLE_EFFECTS } from "./effects-whole.ts";
import { looselySaid } from "./neighbouring-words.ts";

/** Every physical effect that a fault can have. */
export const EFFECTS = { ...DRIVE_EFFECTS, ...FRICTION_EFFECTS, ...FIT_EFFECTS, ...WHOLE_EFFECTS };
export type EffectId = keyof typeof EFFECTS;

/** All effects with what they show and bring; one taken out must turn a test red. */
export type EffectTable = Readonly<Record<EffectId, PhysicalEffect>>;

/**
 * How often an effect on this mechanism is reported as each symptom, wherever it can be; several ways to one symptom are
 * several chances for it.
 */
export function shownOn(
  effect: EffectId,
  mechanism: MechanismId,
  table: EffectTable,
): ReadonlyMap<SymptomId, Probability> {
  const { shows, brings } = table[effect];
  const rows = [
    ...shows,
    ...brings.flatMap(
      ({ consequence, often }) =>
        (CONSEQUENCES as Readonly<Record<string, readonly Shown[]>>)[consequence]?.map((row) => ({
          ...row,
          often: row.often * often,
        })) ?? [],
    ),
  ];
  const quiet = new Map<SymptomId, Probability>();
  for (const { symptom, often, on } of rows)
    if (on === "all" || on.includes(mechanism)) quiet.set(symptom, (quiet.get(symptom) ?? 1) * (1 - often));
  return looselySaid(new Map([...quiet].map(([symptom, left]) => [symptom, 1 - left])));
}

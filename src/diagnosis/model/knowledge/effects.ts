import type { MechanismId } from "../../../domain/trade/mechanisms.ts";
import { SYMPTOM_IDS, type SymptomId } from "../../../domain/trade/symptoms.ts";
import type { Probability } from "../../../domain/units.ts";
import { CONSEQUENCES } from "./consequences.ts";
import type { PhysicalEffect, Shown } from "./effect.ts";
import { DRIVE_EFFECTS } from "./effects-drive.ts";
import { FIT_EFFECTS } from "./effects-fit.ts";
import { FRICTION_EFFECTS } from "./effects-friction.ts";
import { WHOLE_EFFECTS } from "./effects-whole.ts";

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

/** What people who saw the same thing call it in different words. Common practice, no source. */
const SAID_FOR_EACH_OTHER: readonly (readonly SymptomId[])[] = [
  ["no-move", "trembles"],
  ["stalls", "jerks", "catches-up", "slow", "late-flag", "uneven-turning"],
  ["grinds", "rattles", "ticks", "whines", "knocks"],
  ["stops-short", "short-range", "half-in", "wrong-place"],
  ["wrong-place", "moved-after", "side-differs", "misses-angle"],
  ["creeps", "slips-back", "moved-after"],
  ["wrong-item", "between-two", "wrong-place"],
  ["swings-on", "hunts", "head-shakes", "knocks"],
  ["wobbles", "soft-turning", "uneven-turning"],
  ["patchy", "wrong-shade", "shadow"],
  ["dim", "tinted", "veil", "not-sharp"],
  ["flickers", "light-out", "cuts-out"],
  ["no-strike", "slow-strike", "light-out"],
  ["nothing-moves", "went-dead", "several-at-once"],
];
/** One report of six or so is in a neighbour's words. Judgement. */
const LOOSELY: Probability = 0.15;

const NEIGHBOURS: ReadonlyMap<SymptomId, ReadonlySet<SymptomId>> = new Map(
  SYMPTOM_IDS.map((id) => [
    id,
    new Set(
      SAID_FOR_EACH_OTHER.filter((words) => words.includes(id)).flatMap((words) => words.filter((one) => one !== id)),
    ),
  ]),
);

/** The words that people use for what others call `symptom`. */
export const alsoCalled = (symptom: SymptomId): ReadonlySet<SymptomId> => NEIGHBOURS.get(symptom) ?? new Set();

function looselySaid(links: ReadonlyMap<SymptomId, Probability>): ReadonlyMap<SymptomId, Probability> {
  const said = new Map(links);
  for (const symptom of SYMPTOM_IDS) {
    const near = Math.max(0, ...[...alsoCalled(symptom)].map((other) => links.get(other) ?? 0));
    if (near > 0) said.set(symptom, 1 - (1 - (links.get(symptom) ?? 0)) * (1 - LOOSELY * near));
  }
  return said;
}

import { SYMPTOM_IDS, type SymptomId } from "../../../domain/trade/symptoms.ts";
import type { Probability } from "../../../domain/units.ts";

/** Words that people use for each other, and why: by their meaning, once for all faults. */
interface Neighbours {
  readonly words: readonly SymptomId[];
  readonly because: string;
}

/**
 * What people who saw or heard the same thing call it in different words; each word is a neighbour of every other in its row.
 * Common practice, no source.
 */
export const SAID_FOR_EACH_OTHER: readonly Neighbours[] = [
  { words: ["no-move", "trembles"], because: "it does not travel; whether it buzzes is heard only from near" },
  {
    words: ["stalls", "jerks", "catches-up", "slow", "late-flag", "uneven-turning"],
    because: "one uneven travel: held, let go and late are told apart by tenths of a second",
  },
  {
    words: ["grinds", "rattles", "ticks", "whines", "knocks"],
    because: "a noise is plain to hear and hard to name",
  },
  {
    words: ["stops-short", "short-range", "half-in", "wrong-place"],
    because: "the end is not reached, and no scale says by how much",
  },
  {
    words: ["wrong-place", "moved-after", "side-differs", "misses-angle"],
    because: "it is off its place; since when, or from which side, one must have looked for",
  },
  {
    words: ["creeps", "slips-back", "moved-after"],
    because: "it left its place at rest; who looked away saw only where it ended",
  },
  {
    words: ["wrong-item", "between-two", "wrong-place"],
    because: "a wheel off its position shows two halves or the next item, as the beam cuts it",
  },
  {
    words: ["swings-on", "hunts", "head-shakes", "knocks"],
    because: "the head does not come to rest at once; how often it swings nobody counts",
  },
  {
    words: ["wobbles", "soft-turning", "uneven-turning"],
    because: "a turning picture that is not still",
  },
  { words: ["patchy", "wrong-shade", "shadow"], because: "part of the field has another colour or none" },
  { words: ["dim", "tinted", "veil", "not-sharp"], because: "dirty glass does all four, and the eye adapts to each" },
  { words: ["flickers", "light-out", "cuts-out"], because: "the light was gone; for how long is remembered badly" },
  {
    words: ["no-strike", "slow-strike", "light-out"],
    because: "dark when light was due; some wait longer than others",
  },
  {
    words: ["nothing-moves", "went-dead", "several-at-once"],
    because: "more than one thing at a time: how much of it all, one pair of eyes does not see",
  },
];

/** One report of six or so is in a neighbour's words. Judgement. */
export const LOOSELY: Probability = 0.15;

const NEIGHBOURS: ReadonlyMap<SymptomId, ReadonlySet<SymptomId>> = new Map(
  SYMPTOM_IDS.map((id) => [
    id,
    new Set(SAID_FOR_EACH_OTHER.flatMap(({ words }) => (words.includes(id) ? words.filter((one) => one !== id) : []))),
  ]),
);

/** The words that people use for what others call `symptom`. */
export const alsoCalled = (symptom: SymptomId): ReadonlySet<SymptomId> => NEIGHBOURS.get(symptom) ?? new Set();

/** The links of a fault, with the chance in each that a symptom is reported in a neighbour's words. */
export function looselySaid(links: ReadonlyMap<SymptomId, Probability>): ReadonlyMap<SymptomId, Probability> {
  const said = new Map(links);
  for (const symptom of SYMPTOM_IDS) {
    const near = Math.max(0, ...[...alsoCalled(symptom)].map((other) => links.get(other) ?? 0));
    if (near > 0) said.set(symptom, 1 - (1 - (links.get(symptom) ?? 0)) * (1 - LOOSELY * near));
  }
  return said;
}

import type { FunctionId } from "../../domain/trade/functions.ts";
import { mechanismOf } from "../../domain/trade/mechanisms.ts";
import { FIXTURE_SYMPTOMS, type SymptomId, symptomsOf } from "../../domain/trade/symptoms.ts";
import type { SimDraw } from "../chance.ts";

/** What kind of watcher it is. All of it assumptions. */
export interface Habits {
  /** The share of what shows that goes unnoticed. */
  readonly misses: number;
  /** How often, in a step in which nothing shows, a symptom is reported all the same. */
  readonly falseWord: number;
  /** How often the word of a neighbour is used for what was seen. */
  readonly looseWord: number;
}

/** Somebody who knows the words and imagines nothing. */
export const EXACT: Habits = { misses: 0.1, falseWord: 0, looseWord: 0 };

/** Three people at three benches. */
export const WATCHERS: readonly Habits[] = [
  { misses: 0.06, falseWord: 0.001, looseWord: 0.1 },
  { misses: 0.1, falseWord: 0.002, looseWord: 0.2 },
  { misses: 0.18, falseWord: 0.004, looseWord: 0.3 },
];

/** "Sticks" for "stops, then catches up": what people call what they have seen when they do not look for the word. */
const ALSO_CALLED: Readonly<Partial<Record<SymptomId, readonly SymptomId[]>>> = {
  "catches-up": ["stalls", "jerks"],
  stalls: ["jerks", "slow"],
  jerks: ["stalls", "knocks"],
  slow: ["stalls"],
  "late-flag": ["slow", "stalls"],
  "no-move": ["trembles", "stalls"],
  trembles: ["no-move", "jerks"],
  grinds: ["rattles", "whines"],
  rattles: ["grinds", "knocks"],
  whines: ["grinds"],
  ticks: ["rattles"],
  knocks: ["rattles"],
  "wrong-place": ["moved-after", "stops-short"],
  "moved-after": ["wrong-place", "creeps"],
  "side-differs": ["wrong-place", "moved-after"],
  "swings-on": ["hunts", "head-shakes"],
  hunts: ["swings-on", "trembles"],
  creeps: ["slips-back", "moved-after"],
  "slips-back": ["creeps"],
  "wrong-item": ["between-two"],
  "between-two": ["wrong-item", "wrong-place"],
  "half-in": ["stops-short"],
  "stops-short": ["half-in", "short-range"],
  "misses-angle": ["wrong-place"],
  "uneven-turning": ["jerks", "wobbles"],
  wobbles: ["soft-turning", "uneven-turning"],
  "soft-turning": ["wobbles"],
  patchy: ["wrong-shade"],
  "wrong-shade": ["patchy"],
  dim: ["tinted"],
  tinted: ["dim"],
  veil: ["not-sharp", "dim"],
  shadow: ["patchy"],
  flickers: ["light-out"],
};

/** The word that this watcher uses, where the function can show what it says. */
export const wordFor = (
  { looseWord }: Habits,
  symptom: SymptomId,
  id: FunctionId | undefined,
  chance: SimDraw,
): SymptomId => {
  const words = (ALSO_CALLED[symptom] ?? []).filter((word) => canBeSaidOf(word, id));
  if (looseWord === 0 || words.length === 0 || chance() >= looseWord) return symptom;
  return words[Math.floor(chance() * words.length)] ?? symptom;
};

const canBeSaidOf = (symptom: SymptomId, id: FunctionId | undefined): boolean =>
  id === undefined ? OF_THE_WHOLE.has(symptom) : symptomsOf(mechanismOf(id, undefined)).includes(symptom);

const OF_THE_WHOLE: ReadonlySet<SymptomId> = new Set([
  ...FIXTURE_SYMPTOMS,
  ...symptomsOf("optics"),
  ...symptomsOf("light-engine"),
]);

/** Something said of what was watched although nothing was wrong with it. */
export const falseWordFor = (id: FunctionId, chance: SimDraw): SymptomId | undefined => {
  const words = symptomsOf(mechanismOf(id, undefined));
  return words[Math.floor(chance() * Math.min(words.length, COMMONEST))];
};

/** How many of the commonest symptoms are imagined; nobody imagines the rare ones. */
const COMMONEST = 8;

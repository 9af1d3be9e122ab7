import type { InspectionId } from "../../../domain/trade/inspections.ts";
import type { SymptomId } from "../../../domain/trade/symptoms.ts";
import type { Probability } from "../../../domain/units.ts";

/**
 * How often something is reported although nothing is wrong: noises and shades are matters of taste, a dead fan is not.
 * Starter values, judgement.
 */
const USUAL: Probability = 0.0006;
const TASTE: Probability = 0.0014;
const MATTERS_OF_TASTE: ReadonlySet<SymptomId> = new Set([
  "slow",
  "jerks",
  "grinds",
  "rattles",
  "whines",
  "ticks",
  "wrong-shade",
  "patchy",
  "not-sharp",
  "dim",
  "tinted",
  "fan-loud",
  "knocks",
  "swings-on",
  "something-else-moved",
]);

/** Nobody imagines these. */
const PLAIN: Probability = 0.0003;
const PLAIN_TO_SEE: ReadonlySet<SymptomId> = new Set([
  "no-move",
  "trembles",
  "colour-dead",
  "no-strike",
  "display-dark",
  "fan-still",
  "nothing-moves",
  "reset-itself",
  "error-shown",
  "light-out",
  "went-dead",
]);

/** Whatever its cause, a trouble that was pressed often enough seems to have some pattern. */
const PATTERN: Probability = 0.03;
const PATTERNS: ReadonlySet<SymptomId> = new Set(["at-one-place", "one-way-only", "near-an-end", "at-no-place"]);

/** How often a symptom is reported with no fault behind it, 0 to 1. Starter values, judgement. */
export function leakOf(symptom: SymptomId): Probability {
  if (PATTERNS.has(symptom)) return PATTERN;
  if (PLAIN_TO_SEE.has(symptom)) return PLAIN;
  return MATTERS_OF_TASTE.has(symptom) ? TASTE : USUAL;
}

/** A look that tells plainly: there it is or there it is not. Starter values, judgement. */
const TELLS_PLAINLY: ReadonlySet<InspectionId> = new Set([
  "transport-locks",
  "water",
  "capacitors",
  "yoke-capacitors",
  "head-capacitors",
  "loose-screws",
  "earth-continuity",
  "yoke-wires",
  "pan-encoder-marks",
  "tilt-encoder-marks",
  "pan-tension-wheel",
  "tilt-tension-wheel",
  "gobo-springs",
  "filings",
  "iris-leaves",
  "motor-windings",
]);

/**
 * How often an inspection comes out bad with no fault behind it: wear that means nothing, or a mistake
 * of the eye. Starter values, judgement.
 */
export const inspectionLeak = (id: InspectionId): Probability => (TELLS_PLAINLY.has(id) ? 0.004 : 0.02);

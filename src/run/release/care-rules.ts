import type { Fitted } from "../../diagnosis/model/places.ts";
import { comesAndGoes, seenIn } from "./clean-passes.ts";
import { disturbedBy, isDisturbed, mendedIn } from "./disturbed.ts";
import type { History } from "./history.ts";
import { eventsIn, NEVER } from "./moment.ts";
import { type StepFact, stepFacts } from "./step-facts.ts";

/** How many clean passes in a row are asked for after a fail whose reason nobody found. Common practice, no source. */
const PASSES_WITHOUT_A_REPAIR = 3;
/** How many presses in all may be in passed steps without a word: a hand that slipped. Judgement. */
const SLIPS = 2;

/** What came and went and has not been clean often enough, and what failed and passed again with no repair that could be why. */
export const unexplainedPasses = (history: History, fitted: readonly Fitted[]): readonly string[] => [
  ...new Set(
    stepFacts(history).flatMap((step) => {
      const wanted = step.passed > step.failed ? passesWanted(history, fitted, step) : undefined;
      return wanted ? [`${wanted.why}; ${wanted.clean} of ${wanted.needed} clean passes: ${step.words}`] : [];
    }),
  ),
];

export interface PassesWanted {
  readonly why: string;
  readonly clean: number;
  readonly needed: number;
}

/** How often a movement that failed and has passed since still has to pass; undefined when that is enough. */
export const passesWanted = (history: History, fitted: readonly Fitted[], step: StepFact): PassesWanted | undefined => {
  if (step.trulyFailed === NEVER) return undefined;
  const seen = seenIn(history, step.movement);
  if (seen && comesAndGoes(seen))
    return seen.clean < seen.needed ? { why: "came and went", clean: seen.clean, needed: seen.needed } : undefined;
  if (step.passedSince >= PASSES_WITHOUT_A_REPAIR) return undefined;
  const repaired = eventsIn(history, "repaired").some(
    ({ at, body }) => at > step.trulyFailed && isDisturbed(step, disturbedBy(mendedIn(body)), fitted),
  );
  return repaired
    ? undefined
    : { why: "failed, passed since without a repair", clean: step.passedSince, needed: PASSES_WITHOUT_A_REPAIR };
};

/**
 * Steps that were called a pass without a word although "There!" was pressed; a slip or two of the hand are nobody's fault.
 */
export const pressedPasses = (history: History): readonly string[] => {
  const pressed = stepFacts(history).filter(({ passedWithPresses }) => passedWithPresses > 0);
  const presses = pressed.reduce((sum, { passedWithPresses }) => sum + passedWithPresses, 0);
  if (presses <= SLIPS) return [];
  return pressed.map(
    ({ passedWithPresses: times, words }) =>
      `pressed ${times === 1 ? "once" : `${times} times`} and called a pass without a note: ${words}`,
  );
};

/** Says that all of the cleaning was left out and nobody wrote down why; nothing where that is not so. */
export const leftOutCleaning = (history: History): readonly string[] => {
  const all = eventsIn(history, "cleaned").map(({ body }) => body);
  const latest = [...new Map(all.map((one) => [one.cleaning, one])).values()];
  if (latest.length === 0 || latest.some(({ done, note }) => done === "done" || note.trim() !== "")) return [];
  return [
    `nothing was cleaned: ${latest.length === 1 ? "it was" : `all ${latest.length} were`} left out without a note`,
  ];
};

import type { Fitted } from "../../diagnosis/model/places.ts";
import type { Planned } from "../events/view.ts";
import { eventsIn, type History, NEVER } from "./history.ts";
import { disturbedBy, isDisturbed, mendedIn } from "./repairs.ts";
import { pressesAfter, type StepFact, stepFacts } from "./step-facts.ts";

/** What came and went and has not been clean often enough, and what failed and passed again with no repair that could be why. */
export const unexplainedPasses = (history: History, fitted: readonly Fitted[]): readonly string[] => [
  ...new Set(
    stepFacts(history).flatMap((step) => {
      const wanted = step.passed > step.failed ? passesWanted(history, fitted, step) : undefined;
      return wanted ? [`${wanted.why}; ${wanted.clean} of ${wanted.needed} clean passes: ${step.words}`] : [];
    }),
  ),
];

interface PassesWanted {
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

/** How many clean passes in a row are asked for after a fail whose reason nobody found. Common practice, no source. */
const PASSES_WITHOUT_A_REPAIR = 3;

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

/** How many presses in all may be in passed steps without a word: a hand that slipped. Judgement. */
const SLIPS = 2;

/** How often a fault that comes and goes was seen in one movement, and how often the movement has been clean since. */
export interface SeenPasses {
  /** Passes of the attempts up to the last one that failed, and in how many of them it was seen. */
  readonly passes: number;
  readonly shown: number;
  /** Passes since, all clean. */
  readonly clean: number;
  /** How many clean passes in a row would come by chance in one case of twenty if the fault were still there. */
  readonly needed: number;
}

const RISK = 0.05;

/**
 * How many clean passes call a fault gone, at 5 % risk: 1 for one that always showed. `share` is the share of
 * passes that it was seen in, above 0 to 1.
 */
export const cleanPassesNeeded = (share: number): number =>
  share >= 1 ? 1 : Math.max(1, Math.ceil(Math.log(RISK) / Math.log(1 - share)));

/**
 * In how many passes a movement showed something, over all runs; undefined for a movement that never failed, or
 * that did so without a press to count by.
 */
export const seenIn = (history: History, movement: string): SeenPasses | undefined => {
  const attempts = attemptsOf(history, movement);
  const last = attempts.findLastIndex(({ result }) => result === "fail");
  const before = attempts.slice(0, last + 1);
  const passes = sum(before.map((one) => one.passes));
  const shown = sum(before.map(shownIn));
  if (last < 0 || shown === 0) return undefined;
  const clean = sum(attempts.slice(last + 1).flatMap((one) => (one.result === "pass" ? [one.passes] : [])));
  return { passes, shown, clean, needed: cleanPassesNeeded(shown / passes) };
};

/** Whether it showed in some passes and not in others: one clean replay says little. */
export const comesAndGoes = ({ passes, shown }: SeenPasses): boolean => shown < passes;

interface PassAttempt {
  readonly passes: number;
  readonly presses: number;
  readonly pace: number;
  readonly result: string;
}

const shownIn = ({ passes, presses, result }: PassAttempt): number =>
  result === "fail" ? Math.min(passes, presses) : 0;
const sum = (numbers: readonly number[]): number => numbers.reduce((total, one) => total + one, 0);

/** Every judged attempt at a movement, in order. More slowly a pass says nothing of how clean it is. */
const attemptsOf = (history: History, movement: string): readonly PassAttempt[] => {
  const attempts: PassAttempt[] = [];
  let [presses, pace] = [0, 1];
  for (const { step, body } of eventsOfSteps(history, movement)) {
    if (body.kind === "step-started") [presses, pace] = [0, body.pace];
    presses = pressesAfter(presses, body);
    if (body.kind === "step-corrected") attempts.pop();
    if (body.kind === "step-judged") attempts.push({ passes: passesOf(step), presses, pace, result: body.result });
  }
  return attempts.filter((one) => one.pace >= 1 || one.result !== "pass");
};

/** What was written of the steps with this movement, with the step as it was planned. */
const eventsOfSteps = (history: History, movement: string) => {
  const planned = stepsOf(history, movement);
  return history.flatMap(({ run, body }) => {
    const step = "step" in body && typeof body.step === "string" ? planned.get(`${run} ${body.step}`) : undefined;
    return step ? [{ step, body }] : [];
  });
};

const stepsOf = (history: History, movement: string): ReadonlyMap<string, Planned> =>
  new Map(
    history.flatMap(({ run, body }) => {
      const steps = body.kind === "run-opened" ? body.steps : body.kind === "step-added" ? [body.step] : [];
      return steps.flatMap((step) => (step.fingerprint === movement ? [[`${run} ${step.id}`, step] as const] : []));
    }),
  );

/** The movements of what moved most. */
const passesOf = ({ functions, moves }: Planned): number =>
  Math.max(1, ...functions.map((id) => moves.filter(([moved]) => moved === id).length));

import { type Fitted, mechanismsOf } from "../../diagnosis/model/places.ts";
import { alwaysDue, type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import { READING_IDS, READINGS, type ReadingId } from "../../domain/trade/readings.ts";
import { passesWanted } from "./clean-passes.ts";
import { eventsIn, type History, lastOf } from "./history.ts";
import { isBehindCover, latestLooks } from "./look-facts.ts";
import { disturbedBy, isDisturbed, mendedIn } from "./repairs.ts";
import type { Reason, RuleId } from "./rules.ts";
import { alike, type StepFact, stepFacts } from "./step-facts.ts";

/** What one more run can do for a fixture that is not released yet. */
export interface StillDue {
  /** Fingerprints of the movements that must pass. */
  readonly movements: ReadonlySet<string>;
  readonly looks: readonly InspectionId[];
  readonly readings: readonly ReadingId[];
  readonly cleaning: "due" | "not due";
}

/** What a person must do before a run is of use: repair, lift a hold, end an open run, give it a number. */
const BEFORE_A_RUN: readonly RuleId[] = ["danger", "held-back", "repaired", "named", "over"];
/** Whether a person must do this before a run is of use. */
export const isForAPerson = ({ rule }: Reason): boolean => BEFORE_A_RUN.includes(rule);

/** Of everything that blocks the release, what can be played, looked at, cleaned and measured. */
export const stillDue = (history: History, fitted: readonly Fitted[], reasons: readonly Reason[]): StillDue => {
  const episode = history.slice(lastOf(history, "signed-off", () => true) + 1);
  const looks = looksDue(episode, fitted);
  const cleaning = reasons.some(({ rule }) => rule === "cleaned") ? "due" : "not due";
  const opens = cleaning === "due" || looks.some((id) => isBehindCover(inspection(id).cover));
  return {
    movements: movementsDue(episode, fitted),
    looks,
    cleaning,
    readings: READING_IDS.filter(
      (id) =>
        reasons.some(({ rule, words }) => rule === "measured" && words.includes(READINGS[id].words)) ||
        // Whatever was opened is tested again after it is closed.
        (opens && id === "electrical-safety"),
    ),
  };
};

/** The earth is measured, not looked at. */
const looksDue = (episode: History, fitted: readonly Fitted[]): readonly InspectionId[] => {
  const latest = latestLooks(episode);
  const due = alwaysDue(mechanismsOf(fitted));
  const others = [...latest].flatMap(([id, { answer }]) => (answer === "bad" || answer === "unsure" ? [id] : []));
  return [...new Set([...due, ...others])].filter(
    (id) => id !== "earth-continuity" && latest.get(id)?.answer !== "good",
  );
};

const movementsDue = (episode: History, fitted: readonly Fitted[]): ReadonlySet<string> => {
  const facts = stepFacts(episode);
  const passedAlike = (step: StepFact) => Math.max(...facts.filter((one) => alike(step, one)).map((one) => one.passed));
  const repairs = eventsIn(episode, "repaired").map(({ at, body }) => ({ at, disturbed: disturbedBy(mendedIn(body)) }));
  const isDue = (step: StepFact): boolean =>
    step.failed > step.passed ||
    step.passedWithPresses > 0 ||
    (step.failed < 0 && passedAlike(step) < 0) ||
    passesWanted(episode, fitted, step) !== undefined ||
    repairs.some(({ at, disturbed }) => isDisturbed(step, disturbed, fitted) && passedAlike(step) < at);
  return new Set(facts.filter(isDue).map(({ movement }) => movement));
};

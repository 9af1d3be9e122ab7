import { type Need, needInWords, type ReleaseLevel } from "../../data/shop/shop.ts";
import { type Fitted, mechanismsOf } from "../../diagnosis/model/places.ts";
import { alwaysDue, type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import { READING_IDS, READINGS, type ReadingId } from "../../domain/trade/readings.ts";
import type { RunEvent } from "../events/event.ts";
import { passesWanted } from "./clean-passes.ts";
import { eventsIn, type History, lastOf } from "./history.ts";
import { type Due, dueAt, FULL, reasonsAtLevel } from "./levels.ts";
import { isBehindCover, latestLooks } from "./look-facts.ts";
import { sinceRelease } from "./release-status.ts";
import { disturbedBy, isDisturbed, mendedIn } from "./repairs.ts";
import type { Reason, RuleId } from "./rules.ts";
import { alike, type StepFact, stepFacts } from "./step-facts.ts";

/** A level at which a fixture could be released now, or what blocks it there. */
export interface LevelOffer {
  readonly level: string;
  readonly due: readonly Need[] | typeof FULL;
  /** Empty when only the signature is missing. */
  readonly reasons: readonly Reason[];
  /** Everything the level ever asks for, and when it is due. */
  readonly needs: readonly Due[];
}

/**
 * What each level of release still asks for: the full check first, then the shop's levels in their order.
 *
 * @param history everything written of the fixture, in the order of writing @param today ISO 8601
 */
export const levelOffers = (
  levels: readonly ReleaseLevel[],
  history: readonly RunEvent[],
  fitted: readonly Fitted[],
  today: string,
): readonly LevelOffer[] => {
  const { episode } = sinceRelease(history, fitted);
  const shops = levels.map((level) => {
    const needs = dueAt(level, history, today);
    const due = needs.flatMap((one) => (one.now ? [one.need] : []));
    return { level: level.name, due, needs, reasons: reasonsAtLevel(episode, fitted, due) };
  });
  return [{ level: FULL, due: FULL, needs: [], reasons: reasonsAtLevel(episode, fitted, FULL) }, ...shops];
};

/** The most thorough level at which nothing blocks the release; undefined where something blocks every level. */
export const bestOffer = (offers: readonly LevelOffer[]): LevelOffer | undefined =>
  offers.find(({ reasons }) => reasons.length === 0);

/** The level with the fewest reasons against a release; undefined where there is no level. */
export const nearestOffer = (offers: readonly LevelOffer[]): LevelOffer | undefined =>
  offers.toSorted((a, b) => a.reasons.length - b.reasons.length)[0];

/**
 * What is due later, in words: "Due next: full check after 3 more returns or 120 h." Empty where
 * nothing is ever due besides every return.
 */
export const dueNextInWords = ({ needs }: LevelOffer): string => {
  const later = needs.filter(({ words, now }) => !now && words !== "at every return");
  return later.length === 0
    ? ""
    : `Due next: ${later.map(({ need, words }) => `${needInWords(need)} ${words}`).join("; ")}.`;
};

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

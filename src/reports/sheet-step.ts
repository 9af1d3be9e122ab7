import type { Profile } from "../data/profile/profile.ts";
import { sayOf } from "../diagnosis/model/reasons.ts";
import { type Known, USUAL } from "../diagnosis/places/known.ts";
import { placeStrip, placeStripRows, type Strip } from "../diagnosis/places/strip.ts";
import { sayAssessment } from "../diagnosis/places/words.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { type FunctionId, functionWords } from "../domain/trade/functions.ts";
import { RESULTS, ROUTINES, type StepResult } from "../domain/trade/routines.ts";
import { symptomWords } from "../domain/trade/symptoms.ts";
import type { RigOfRun } from "../run/events/attempts.ts";
import type { BodyOf, ReportedSymptom } from "../run/events/event.ts";
import { placedIn } from "../run/events/placed.ts";
import { allPresses, resultOf, unaskedPresses } from "../run/events/step-results.ts";
import type { RunView, StepView } from "../run/events/view.ts";
import { many } from "./status-words.ts";

/** A step as the job sheet tells it. */
export interface SheetStep {
  readonly id: string;
  /** One attribute, several joined by "+", or "fixture". */
  readonly function: string;
  readonly routine: string;
  readonly words: string;
  readonly result: StepResult;
  readonly symptoms: readonly { readonly id: string; readonly words: string; readonly function: string | undefined }[];
  readonly note: string;
  readonly presses: number;
  readonly attempts: number;
  readonly watched: "attended" | "confirmed" | "no";
  /** How many of these presses nobody was asked about: something was seen, and it is not said what. */
  readonly unasked: number;
  /** Why this step does not count: a slow computer, frames not sent, a lost line; empty when nothing of it happened. */
  readonly rig: string;
}

/**
 * One step as the job sheet has it. A step that nobody was asked about has no symptoms; its
 * presses are counted over all attempts.
 */
export const sheetStep = (step: StepView): SheetStep => {
  const { judged } = step;
  const unasked = unaskedPresses(step);
  const names = step.functions.map(functionWords);
  return {
    id: step.id,
    function: step.functions.join("+") || "fixture",
    routine: step.routine,
    words: `${names.join(", ") || "whole fixture"}: ${ROUTINES[step.routine].words}`,
    result: resultOf(step),
    symptoms: judged?.symptoms.map(sheetSymptom) ?? [],
    note: judged?.note ?? "",
    presses: judged ? step.presses.length : allPresses(step),
    attempts: step.attempt,
    watched: judged?.watched ?? (unasked > 0 ? "attended" : "no"),
    unasked,
    rig: judged?.result === "repeat" ? rigInWords(judged.rig) : "",
  };
};

const sheetSymptom = ({ symptom, function: id }: ReportedSymptom) => ({
  id: symptom,
  words: id === undefined ? symptomWords(symptom) : sayOf([functionWords(id)], symptom),
  function: id,
});

/** Said only when it could have been taken for a fault of the fixture. */
const rigInWords = ({ worst_late_s, dropped, lost }: BodyOf<"step-judged">["rig"]): string =>
  [
    ...(worst_late_s >= 0.025 ? [`computer too slow by ${Math.round(worst_late_s * 1000)} ms: repeat this step`] : []),
    ...(dropped > 0 ? [`${dropped} ${dropped === 1 ? "frame was" : "frames were"} not sent: repeat this step`] : []),
    ...(lost ? ["DMX line lost: repeat this step"] : []),
  ].join("; ");

/** One thing seen, however many steps showed it. */
export interface SeenSymptom {
  /** "pan: full sweep", with "4 times" where four steps showed the same. */
  readonly step: string;
  readonly result: string;
  /** Symptoms, presses, what the computer did, the note; harmless to print. */
  readonly about: string;
}

/** What did not pass, in the order of the sequence; steps that showed the very same stand together. What passed is counted elsewhere. */
export const whatWasSeen = ({ steps }: { readonly steps: readonly SheetStep[] }): readonly SeenSymptom[] => {
  const told = steps.filter(({ result }) => result !== "pass" && result !== "not-fitted");
  return [...new Set(told.map(sameness))].map((key) => seenOf(told.filter((step) => sameness(step) === key)));
};

const sameness = ({ words, result, symptoms, note, rig, unasked }: SheetStep): string =>
  JSON.stringify([words, result, symptoms, note, rig, unasked > 0]);

const seenOf = (alike: readonly SheetStep[]): SeenSymptom => {
  const [first] = alike;
  if (!first) throw new Error("Bug: nothing was seen by no step");
  const presses = alike.reduce((sum, step) => sum + step.presses, 0);
  const about = [
    ...first.symptoms.map(({ words }) => words),
    pressesInWords(presses),
    unaskedInWords(first),
    first.rig,
    safeText(first.note),
  ];
  return {
    step: alike.length === 1 ? first.words : `${first.words}, ${alike.length} times`,
    result: RESULTS[first.result],
    about: about.filter((words) => words !== "").join("; "),
  };
};

const pressesInWords = (presses: number): string =>
  presses === 0 ? "" : `${presses} ${presses === 1 ? "press" : "presses"}`;

/** The run ended between the press and its question. */
const unaskedInWords = ({ unasked }: SheetStep): string =>
  unasked === 0 ? "" : "something was seen, and the run ended before it was asked what";

/**
 * Which attempts do not count, and why: "3 attempts do not count: computer too slow, late by up to 31 ms; 3 frames not
 * sent."; empty when all of them count.
 */
export const spoiltInWords = ({ spoilt, worst_late_s, dropped, lost }: RigOfRun): string => {
  if (spoilt === 0) return "";
  const how = [
    ...(worst_late_s >= 0.025 ? [`computer too slow, late by up to ${Math.round(worst_late_s * 1000)} ms`] : []),
    ...(dropped > 0 ? [`${many(dropped, "frame")} not sent`] : []),
    ...(lost > 0 ? [`DMX line lost ${lost === 1 ? "once" : `${lost} times`}`] : []),
  ];
  return `${many(spoilt, "attempt")} ${spoilt === 1 ? "does" : "do"} not count: ${how.join("; ")}.`;
};

/** Where in the travel of a function the presses of a run stand, in words and as a strip to be drawn. */
export interface Where {
  readonly function: FunctionId;
  readonly words: readonly string[];
  readonly strip: Strip;
}

const STRIP_COLUMNS = 60;

/** Where in its travel every function was pressed for, of those that had a step of their own and were not found good. */
export const wherePressed = (view: RunView, profile: Profile, known: Known = USUAL): readonly Where[] =>
  placedIn(view, profile, known).flatMap(({ function: id, assessment }) => {
    const strip = placeStrip(assessment);
    return strip ? [{ function: id, words: sayAssessment(id, assessment), strip }] : [];
  });

/** Where it happened in words, "pan: both ways, ...", and the strip below it. */
export const whereInWords = ({ function: id, words, strip }: Where): readonly string[] => [
  `${functionWords(id)}: ${words.join("; ")}`,
  ...placeStripRows(strip, STRIP_COLUMNS),
];

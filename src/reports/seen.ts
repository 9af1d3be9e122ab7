import { safeText } from "../domain/problem/terminal.ts";
import { RESULTS } from "../domain/trade/results.ts";
import type { JobSheet } from "./job-sheet.ts";
import type { SheetStep } from "./sheet-step.ts";

/** One thing seen, however many steps showed it. */
export interface SeenSymptom {
  /** "pan: full sweep", with "4 times" where four steps showed the same. */
  readonly step: string;
  readonly result: string;
  /** Symptoms, presses, what the rig did, the note; harmless to print. */
  readonly about: string;
}

/** What did not pass, in the order of the sequence; steps that showed the very same stand together. What passed is counted elsewhere. */
export const whatWasSeen = ({ steps }: Pick<JobSheet, "steps">): readonly SeenSymptom[] => {
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

import { safeText } from "../domain/problem/terminal.ts";
import type { StepResult } from "../domain/trade/routines.ts";
import type { StepView } from "../run/events/view.ts";
import { stepAt, stepInWords } from "../run/session/job.ts";
import type { Session } from "../run/session/session.ts";
import { symptomInWords } from "./pages.ts";

const CAME_OUT: Readonly<Record<StepResult, string>> = {
  pass: "passed",
  fail: "failed",
  unsure: "unsure",
  "not-watched": "not watched",
  "not-fitted": "not fitted",
  "not-asked": "not asked",
  repeat: "computer too slow: to be repeated",
};

/** The result that was given last, and whether it is on disk. Empty before the first. */
export const lastJudged = (session: Session): string => {
  const last = session.view.steps
    .map((step, index) => ({ step, index }))
    .filter(({ step }) => step.judged && step.judged.result !== "not-fitted")
    .toSorted((a, b) => a.step.judgedBy - b.step.judgedBy)
    .at(-1);
  return last ? judgedInWords(session, last.step, last.index) : "";
};

/**
 * What a step was judged, in words: "pan: full sweep failed (pan jerks or hesitates). Saved." `index`
 * is the step's place in the run, from 0.
 */
export const judgedInWords = (session: Session, { judged, judgedBy }: StepView, index: number): string => {
  if (!judged) return "";
  const about = [...judged.symptoms.map(symptomInWords), ...(judged.note ? [`"${safeText(judged.note)}"`] : [])];
  const why = about.length > 0 ? ` (${about.join("; ")})` : "";
  return `${stepInWords(stepAt(session.job, index))} - ${CAME_OUT[judged.result]}${why}. ${isKept(session, judgedBy) ? "Saved." : "Not saved yet."}`;
};

/**
 * Whether a result is on disk, and so may be called saved. `judgedBy` is the sequence
 * number of the event that judged it, from 1.
 */
export const isKept = ({ stored }: Session, judgedBy: number): boolean => stored >= judgedBy;

/** How many steps came to which result, in words: "24 passed, 1 failed". */
export const resultsTally = ({ view }: Session): string => {
  const counts = new Map<StepResult, number>();
  for (const { judged } of view.steps) {
    const result = judged?.result ?? "not-asked";
    counts.set(result, (counts.get(result) ?? 0) + 1);
  }
  return [...counts].map(([result, count]) => `${count} ${CAME_OUT[result]}`).join(", ");
};

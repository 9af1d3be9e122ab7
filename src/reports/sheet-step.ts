import { sayOf } from "../diagnosis/model/words.ts";
import { functionWords } from "../domain/trade/functions.ts";
import type { StepResult } from "../domain/trade/results.ts";
import { ROUTINES } from "../domain/trade/routines.ts";
import { symptomWords } from "../domain/trade/symptoms.ts";
import type { BodyOf, ReportedSymptom } from "../run/events/event.ts";
import { allPresses, resultOf, unaskedPresses } from "../run/events/unasked.ts";
import type { StepView } from "../run/events/view.ts";

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
  /** Of these presses, those that nobody was asked about: something was seen, and it is not said what. */
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

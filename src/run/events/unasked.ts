import type { StepResult } from "../../domain/trade/routines.ts";
import type { StepView } from "./view.ts";

/**
 * How many presses nobody was asked about: the run ended, or was left, before the question. What was pressed while the
 * computer was too slow is not counted, nor what says that a timed movement has arrived.
 */
export const unaskedPresses = ({ judged, attempts, routine }: StepView): number =>
  judged !== undefined || routine === "stopwatch"
    ? 0
    : attempts.filter(({ came }) => came !== "repeat").reduce((sum, { presses }) => sum + presses.length, 0);

/** What came of a step: what was answered, and where nobody was asked, that a press meant something: never that nothing was seen. */
export const resultOf = (step: StepView): StepResult =>
  step.judged?.result ?? (unaskedPresses(step) > 0 ? "unsure" : "not-asked");

/** How many presses a step has, whatever became of the attempt they were made in. */
export const allPresses = ({ attempts }: StepView): number =>
  attempts.reduce((sum, { presses }) => sum + presses.length, 0);

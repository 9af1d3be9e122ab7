import { functionWords } from "../domain/trade/functions.ts";
import { RESULTS, ROUTINES, type StepResult } from "../domain/trade/routines.ts";
import { resultOf } from "../run/events/step-results.ts";
import type { RunView, StepView } from "../run/events/view.ts";
import { comesAndGoes, type SeenPasses, seenIn } from "../run/release/clean-passes.ts";
import type { History } from "../run/release/history.ts";

/** What became of a movement from one run to its replay. */
type ComparedOutcome = "repaired" | "not settled" | "still there" | "new" | "good as before" | "not tested";

/** One movement, before and after. */
export interface Compared {
  readonly words: string;
  readonly before: StepResult;
  readonly after: StepResult;
  readonly became: ComparedOutcome;
  /** How often it was seen and has been clean since, of what comes and goes; empty otherwise. */
  readonly passes: string;
}

/** A run and its replay side by side, movement by movement; `history` is that of the fixture, both runs among it. */
export const beforeAndAfter = (before: RunView, after: RunView, history: History): readonly Compared[] =>
  before.steps
    .filter((step) => (step.judged ? step.judged.result !== "not-fitted" : resultOf(step) === "unsure"))
    .map((step) => compared(step, sameIn(after, step), history));

/** The same movement under the same name: two steps of a run may move alike. */
const sameIn = ({ steps }: RunView, { id, fingerprint }: StepView): StepView | undefined =>
  steps.find((step) => step.id === id && step.fingerprint === fingerprint);

const compared = (step: StepView, again: StepView | undefined, history: History): Compared => {
  const seen = seenIn(history, step.fingerprint);
  const counted = seen && comesAndGoes(seen) ? seen : undefined;
  const [before, after] = [resultOf(step), again ? resultOf(again) : "not-asked"] as const;
  return {
    words: `${step.functions.map(functionWords).join(", ") || "whole fixture"}: ${ROUTINES[step.routine].words}`,
    before,
    after,
    became: becameOf(before, after, counted),
    passes: counted && isWrong(before) ? passesInWords(counted) : "",
  };
};

const isWrong = (result: StepResult): boolean => result === "fail" || result === "unsure";

/** One clean replay does not show that what came and went is gone. */
const becameOf = (before: StepResult, after: StepResult, seen: SeenPasses | undefined): ComparedOutcome => {
  if (isWrong(after)) return isWrong(before) ? "still there" : "new";
  if (after !== "pass") return "not tested";
  if (!isWrong(before)) return "good as before";
  return seen && seen.clean < seen.needed ? "not settled" : "repaired";
};

const passesInWords = ({ passes, shown, clean, needed }: SeenPasses): string =>
  `seen in ${shown} of ${passes} passes; ${clean} clean since, ${needed} needed before it counts as gone`;

/** One movement before and after in words: "pan: full sweep: fail, then pass". */
export const comparedInWords = ({ words, before, after, passes }: Compared): string =>
  `${words}: ${RESULTS[before]}, then ${RESULTS[after]}${passes === "" ? "" : `; ${passes}`}`;

/** The movements that are worth a line: not those that were good before, and still are or were not played again. */
export const worthTelling = (compared: readonly Compared[]): readonly Compared[] =>
  compared.filter(
    ({ became, before }) => became !== "good as before" && !(became === "not tested" && before === "pass"),
  );

/** How many movements need no line, in words: "10 good as before", "31 good before and not played again". */
export const countsInWords = (compared: readonly Compared[]): readonly string[] => {
  const good = compared.filter(({ became }) => became === "good as before").length;
  const left = compared.filter(({ became, before }) => became === "not tested" && before === "pass").length;
  return [
    ...(good > 0 ? [`${good} good as before`] : []),
    ...(left > 0 ? [`${left} good before and not played again`] : []),
  ];
};

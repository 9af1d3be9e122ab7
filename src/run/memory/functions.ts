import { FUNCTION_IDS, type FunctionId } from "../../domain/trade/functions.ts";
import type { RunSummary, SummaryStep } from "../events/summary.ts";

/** How a function did, run by run. */
export interface FunctionPast {
  readonly function: FunctionId | "fixture";
  /** The worst step of each run that tested it, oldest first. */
  readonly results: readonly { readonly run: string; readonly at: string; readonly worst: Telling }[];
}

/** Worst first. All other results say nothing about a fixture. */
const TELLING = ["fail", "unsure", "pass"] as const;
type Telling = (typeof TELLING)[number];

/**
 * The past of each function that was tested at least once, in the order of the trade's
 * list; the fixture as a whole comes last.
 */
export const functionsIn = (runs: readonly RunSummary[]): readonly FunctionPast[] =>
  [...FUNCTION_IDS, "fixture" as const]
    .map((id) => ({ function: id, results: runs.flatMap((run) => resultIn(run, id)) }))
    .filter(({ results }) => results.length > 0);

const resultIn = ({ run, at, steps }: RunSummary, id: FunctionPast["function"]): FunctionPast["results"] => {
  const results = steps.filter((step) => speaksOf(step, id)).map(({ result }) => result);
  const worst = TELLING.find((one) => results.includes(one));
  return worst ? [{ run, at, worst }] : [];
};

/** A step that moves two functions and went wrong at one of them says nothing of the other. */
const speaksOf = ({ functions, symptoms }: SummaryStep, id: FunctionPast["function"]): boolean => {
  if (id === "fixture") return functions.length === 0;
  const blamed = symptoms.flatMap((one) => one.function ?? []);
  return functions.includes(id) && (blamed.length === 0 || blamed.includes(id));
};

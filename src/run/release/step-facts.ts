import { functionWords } from "../../domain/trade/functions.ts";
import { ROUTINES } from "../../domain/trade/routines.ts";
import type { BodyOf } from "../events/event.ts";
import type { Tested } from "./disturbed.ts";
import type { History, Told } from "./history.ts";
import { type Moment, NEVER } from "./moment.ts";

/** One movement, told by its frames: the same in a run and in every replay of it. */
export interface StepFact extends Tested {
  readonly words: string;
  /** Failed, or nobody was sure. */
  readonly failed: Moment;
  /** At the sequence's own pace, and watched. */
  readonly passed: Moment;
}

/** Every movement that any run was to make, with its last fail and its last pass; what was taken back was never said. */
export const stepFacts = (history: History): readonly StepFact[] => {
  const names = new Map<string, Set<string>>();
  const movements = new Map<string, Planned>();
  for (const { run, step } of history.flatMap(plannedIn)) {
    movements.set(step.fingerprint, step);
    names.set(step.fingerprint, (names.get(step.fingerprint) ?? new Set()).add(nameOf(run, step.id)));
  }
  return [...movements].map(([movement, step]) => factOf(step, verdictsOn(history, names.get(movement) ?? new Set())));
};

type Planned = BodyOf<"step-added">["step"];
const plannedIn = ({ run, body }: Told): readonly { readonly run: string; readonly step: Planned }[] => {
  const steps = body.kind === "run-opened" ? body.steps : body.kind === "step-added" ? [body.step] : [];
  return steps.filter(({ fitted }) => fitted).map((step) => ({ run, step }));
};
const nameOf = (run: string, step: string): string => `${run} ${step}`;

interface Verdict {
  readonly at: Moment;
  readonly result: string;
  readonly pace: number;
}

/** What was said of the steps with these names, in order. */
const verdictsOn = (history: History, names: ReadonlySet<string>): readonly Verdict[] => {
  const verdicts: Verdict[] = [];
  let pace = 1;
  for (const [at, { run, body }] of history.entries()) {
    if (!("step" in body) || typeof body.step !== "string" || !names.has(nameOf(run, body.step))) continue;
    if (body.kind === "step-started") pace = body.pace;
    else if (body.kind === "step-judged") verdicts.push({ at, result: body.result, pace });
    else if (body.kind === "step-corrected") verdicts.pop();
  }
  return verdicts;
};

const factOf = ({ routine, functions }: Planned, verdicts: readonly Verdict[]): StepFact => {
  const last = (wanted: (verdict: Verdict) => boolean) => verdicts.findLast(wanted)?.at ?? NEVER;
  return {
    routine,
    functions,
    words: `${functions.map(functionWords).join(", ") || "whole fixture"}: ${ROUTINES[routine].words}`,
    failed: last(({ result }) => result === "fail" || result === "unsure"),
    passed: last(({ result, pace }) => result === "pass" && pace >= 1),
  };
};

/** The same routine on the same functions: as good as the other one to show what a repair has disturbed. */
export const alike = (a: Tested, b: Tested): boolean =>
  a.routine === b.routine && [...a.functions].sort().join() === [...b.functions].sort().join();

import { functionWords } from "../../domain/trade/functions.ts";
import { ROUTINES } from "../../domain/trade/routines.ts";
import type { EventBody } from "../events/event.ts";
import type { Planned } from "../events/view.ts";
import { type FixtureEvent, type History, type Moment, NEVER } from "./history.ts";
import type { Tested } from "./repairs.ts";

/** One movement, told by its frames: the same in a run and in every replay of it. */
export interface StepFact extends Tested {
  readonly words: string;
  /** The fingerprint of its frames. */
  readonly movement: string;
  /** Failed, or nobody was sure, or it was pressed in and nobody was asked. */
  readonly failed: Moment;
  /** Pressed in, and the run ended before it was asked what was seen. */
  readonly unasked: Moment;
  /** Failed; when nobody was sure does not count. */
  readonly trulyFailed: Moment;
  /** At the sequence's own pace, and watched. */
  readonly passed: Moment;
  /** How many passes there were since it failed. */
  readonly passedSince: number;
  /** Presses in its last pass, where that has no note. */
  readonly passedWithPresses: number;
}

/**
 * Every movement that any run was to make, with its last fail and its last pass; what was undone was never said. Many
 * rules ask for the same history one after the other: it is folded once.
 *
 * @param history - of one fixture, over all its runs; a list that nobody adds to any more
 */
export const stepFacts = (history: History): readonly StepFact[] => {
  const facts = FOLDED.get(history) ?? factsIn(history);
  FOLDED.set(history, facts);
  return facts;
};
const FOLDED = new WeakMap<History, readonly StepFact[]>();

/** An event of a step, at its place in the history. */
interface OfStep {
  readonly at: Moment;
  readonly name: string;
  readonly body: EventBody;
}

const factsIn = (history: History): readonly StepFact[] => {
  const movements = new Map<string, Planned>();
  const movementOf = new Map<string, string>();
  const eventsOf = new Map<string, OfStep[]>();
  for (const { run, step } of history.flatMap(plannedIn)) {
    movements.set(step.fingerprint, step);
    movementOf.set(nameOf(run, step.id), step.fingerprint);
    eventsOf.set(step.fingerprint, []);
  }
  for (const [at, { run, body }] of history.entries()) {
    if (!("step" in body) || typeof body.step !== "string") continue;
    const name = nameOf(run, body.step);
    eventsOf.get(movementOf.get(name) ?? "")?.push({ at, name, body });
  }
  return [...movements].map(([movement, step]) => {
    const events = eventsOf.get(movement) ?? [];
    return factOf(step, verdictsOn(events), unaskedOn(events, step));
  });
};

const plannedIn = ({ run, body }: FixtureEvent): readonly { readonly run: string; readonly step: Planned }[] => {
  const steps = body.kind === "run-opened" ? body.steps : body.kind === "step-added" ? [body.step] : [];
  return steps.filter(({ fitted }) => fitted).map((step) => ({ run, step }));
};
const nameOf = (run: string, step: string): string => `${run} ${step}`;

interface StepVerdict {
  readonly at: Moment;
  readonly result: string;
  readonly pace: number;
  /** In the attempt it is of, unless a note says more. */
  readonly presses: number;
}

/** How many presses of an attempt count after one more event. `presses` is the count before it, from 0. */
export const pressesAfter = (presses: number, { kind }: EventBody): number => {
  if (kind === "pressed") return presses + 1;
  return kind === "press-corrected" ? Math.max(0, presses - 1) : presses;
};

/** What was said of one movement, in order. */
const verdictsOn = (events: readonly OfStep[]): readonly StepVerdict[] => {
  const verdicts: StepVerdict[] = [];
  let pace = 1;
  let presses = 0;
  for (const { at, body } of events) {
    if (body.kind === "step-started") {
      pace = body.pace;
      presses = 0;
    }
    presses = pressesAfter(presses, body);
    if (body.kind === "step-judged")
      verdicts.push({ at, result: body.result, pace, presses: body.note.trim() === "" ? presses : 0 });
    else if (body.kind === "step-corrected") verdicts.pop();
  }
  return verdicts;
};

/** The last press in this movement that nobody was asked about, in any run. */
const unaskedOn = (events: readonly OfStep[], { routine }: Planned): Moment => {
  const open = new Map<string, readonly Moment[]>();
  let answered: readonly Moment[] = [];
  for (const { at, name, body } of events) {
    const presses = open.get(name) ?? [];
    if (body.kind === "pressed") open.set(name, [...presses, at]);
    else if (body.kind === "press-corrected") open.set(name, presses.slice(0, -1));
    else if (body.kind === "step-judged") {
      answered = presses;
      open.delete(name);
    } else if (body.kind === "step-corrected") open.set(name, answered);
  }
  return routine === "stopwatch" ? NEVER : Math.max(NEVER, ...[...open.values()].flat());
};

const factOf = (
  { routine, functions, fingerprint }: Planned,
  verdicts: readonly StepVerdict[],
  unasked: Moment,
): StepFact => {
  const last = (wanted: (verdict: StepVerdict) => boolean) => verdicts.findLast(wanted);
  const isPass = ({ result, pace }: StepVerdict) => result === "pass" && pace >= 1;
  const trulyFailed = last(({ result }) => result === "fail")?.at ?? NEVER;
  const pass = last(isPass);
  return {
    routine,
    functions,
    movement: fingerprint,
    words: `${functions.map(functionWords).join(", ") || "whole fixture"}: ${ROUTINES[routine].words}`,
    failed: Math.max(unasked, last(({ result }) => result === "fail" || result === "unsure")?.at ?? NEVER),
    unasked,
    trulyFailed,
    passed: pass?.at ?? NEVER,
    passedSince: verdicts.filter((one) => isPass(one) && one.at > trulyFailed).length,
    passedWithPresses: pass?.presses ?? 0,
  };
};

/** Whether two steps play the same routine on the same functions: either is as good to show what a repair has affected. */
export const alike = (a: Tested, b: Tested): boolean =>
  a.routine === b.routine && [...a.functions].sort().join() === [...b.functions].sort().join();

import type { Profile } from "../../data/profile/profile.ts";
import { type Known, USUAL } from "../../diagnosis/places/known.ts";
import { stopwatch, type TimedWay } from "../../diagnosis/places/stopwatch.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { StepResult } from "../../domain/trade/routines.ts";
import { fromStored } from "../../plan/stored.ts";
import type { RunView, StepView } from "./view.ts";

/** What came of a step: what was answered, and where nobody was asked, that a press meant something: never that nothing was seen. */
export const resultOf = (step: StepView): StepResult =>
  step.judged?.result ?? (unaskedPresses(step) > 0 ? "unsure" : "not-asked");

/**
 * How many presses nobody was asked about: the run ended, or was left, before the question. What was pressed while the
 * computer was too slow is not counted, nor what says that a timed movement has arrived.
 */
export const unaskedPresses = ({ judged, attempts, routine }: StepView): number =>
  judged !== undefined || routine === "stopwatch"
    ? 0
    : attempts.filter(({ came }) => came !== "repeat").reduce((sum, { presses }) => sum + presses.length, 0);

/** How many presses a step has, whatever became of the attempt they were made in. */
export const allPresses = ({ attempts }: StepView): number =>
  attempts.reduce((sum, { presses }) => sum + presses.length, 0);

/** How long a function took from end to end, by the presses of a step in which it was timed. */
export interface TimedFunction {
  readonly function: FunctionId;
  readonly times: readonly TimedWay[];
}

/**
 * How long the function of a timed step took, by the presses. Undefined where the step times nothing, or nobody pressed.
 * `index` is the step's place in the run, from 0.
 */
export const timedAt = (
  view: RunView,
  profile: Profile,
  index: number,
  known: Known = USUAL,
): TimedFunction | undefined => {
  const step = view.steps[index];
  const planned = [...(view.opened?.steps ?? []), ...view.added][index];
  const [id] = step?.functions ?? [];
  if (!step || !planned || !id || step.routine !== "stopwatch" || step.functions.length !== 1) return undefined;
  const played = step.attempts.at(-1)?.played ?? planned;
  const times = stopwatch(profile, fromStored(profile, played), id, step.presses, known.quickness);
  return times.length > 0 ? { function: id, times } : undefined;
};

/** Whether one of the times is longer than it should be. */
export const isSlow = ({ times }: TimedFunction): boolean => times.some(({ slow }) => slow);

/**
 * The name of a step that is added to a run: "added-2-of-1-hot-sweep" where it belongs to the test that the step `of`
 * began. `number` and `of` count the added steps of the run.
 */
export const addedName = (number: number, of: number | undefined, name: string): string =>
  `added-${number}-${of === undefined ? "" : `of-${of}-`}${name}`;

/** A test that was added to a run, in however many steps. */
export interface AddedTest {
  /** "shaken-shake", "sweep". */
  readonly name: string;
  /** Whether anything was reported in it. */
  readonly reported: boolean;
}

/**
 * Whether nobody waits for a step any more: it is to warm up, or comes after that, in a test that has shown something
 * already. `index` is the step's place in the run, from 0.
 */
export const isWaitSpared = ({ steps }: Pick<RunView, "steps">, index: number): boolean => {
  const start = steps.findLastIndex(({ id }, at) => at <= index && !goesOn(id));
  const test = steps.slice(start, index + 1);
  const wait = test.findIndex(({ routine, judged }) => routine === "soak" && judged === undefined);
  return wait > 0 && test.slice(0, wait).some(isReported);
};

const isReported = ({ judged }: StepView): boolean => judged?.result === "fail" || judged?.result === "unsure";

/** The tests that were added to a run, in their order. */
export const addedTests = ({ steps, added }: Pick<RunView, "steps" | "added">): readonly AddedTest[] => {
  const own = steps.slice(steps.length - added.length);
  const starts = own.flatMap(({ id }, at) => (goesOn(id) ? [] : [at]));
  return starts.map((start, n) => {
    const steps = own.slice(start, starts[n + 1]);
    // Where mains returned for it, the step after that is the test.
    const named = steps.find(({ routine }) => routine !== "power-up") ?? steps[0];
    return {
      name: named?.id.replace(/^added-\d+-(of-\d+-)?/, "") ?? "",
      reported: steps.some(isReported),
    };
  });
};

/** A step of a test that was begun by another. */
const goesOn = (id: string): boolean => /^added-\d+-of-/.test(id);

/** How many steps the last test took; 0 where none was added. */
export const stepsOfLastTest = ({ added }: Pick<RunView, "added">): number =>
  added.length === 0 ? 0 : added.length - added.findLastIndex(({ id }) => !goesOn(id));

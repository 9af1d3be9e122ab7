import type { Profile } from "../../data/profile/profile.ts";
import { type Known, USUAL } from "../../diagnosis/places/known.ts";
import { stopwatch, type TimedWay } from "../../diagnosis/places/stopwatch.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import { fromStored } from "../../plan/stored.ts";
import type { RunView } from "./view.ts";

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

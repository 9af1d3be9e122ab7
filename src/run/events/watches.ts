import type { Profile } from "../../data/profile/profile.ts";
import { type Watch, watchedUntil, watchOf } from "../../diagnosis/places/watch.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import { secondsOf } from "../../domain/units.ts";
import { fromStored } from "../../plan/stored.ts";
import type { Attempt } from "./attempts.ts";
import type { Planned, RunView, StepView } from "./view.ts";

/** Long even travel is what places can be read from; jumps and returns only ever happen in the middle. */
const PLACING: readonly string[] = ["sweep", "short-sweep"];

/**
 * Every watched attempt at a long even movement of this function alone: of several functions that move,
 * nobody knows which one a press means.
 */
export const watchesOf = (view: RunView, profile: Profile, id: FunctionId): readonly Watch[] => {
  const compiled = [...(view.opened?.steps ?? []), ...view.added];
  return view.steps.flatMap((step, index) => {
    const planned = compiled[index];
    if (!planned || !placesPresses(step, id)) return [];
    return step.attempts.filter(isKnown).flatMap((one) => watchIn(profile, planned, one, id));
  });
};

/** Whether presses in this step can be placed along the travel of this function. */
export const placesPresses = ({ routine, functions }: StepView, id: FunctionId): boolean =>
  PLACING.includes(routine) && functions.length === 1 && functions[0] === id;

/** An attempt that others followed and of which nobody knows how far it came was cut off with the program. */
const isKnown = ({ came, until }: Attempt, at: number, all: readonly Attempt[]): boolean =>
  at === all.length - 1 || came !== undefined || until !== undefined;

/** The computer's own trouble and what nobody watched say nothing. */
const SAYS_NOTHING: readonly Attempt["came"][] = ["repeat", "not-watched", "not-fitted", "not-asked"];

const watchIn = (profile: Profile, planned: Planned, { played, presses, until, came }: Attempt, id: FunctionId) => {
  if (SAYS_NOTHING.includes(came)) return [];
  // Nothing was wrong after all: what was pressed was for nothing.
  const meant = came === "pass" ? [] : presses;
  const watch = watchOf(profile, fromStored(profile, played ?? planned), id, meant);
  return (until === undefined ? watch : watch && watchedUntil(watch, secondsOf(until))) ?? [];
};

import { fittedOf, type Profile } from "../../data/profile/profile.ts";
import { type Assessment, assess, patternSymptoms } from "../../diagnosis/places/assessment.ts";
import { type Known, USUAL } from "../../diagnosis/places/known.ts";
import { type Watch, watchedUntil, watchOf } from "../../diagnosis/places/watch.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import { secondsOf } from "../../domain/units.ts";
import { fromStored } from "../../plan/stored.ts";
import type { Attempt } from "./attempts.ts";
import type { ReportedSymptom } from "./event.ts";
import type { Planned, RunView, StepView } from "./view.ts";

/** What all presses of a run on one function say together. */
export interface PlacedPresses {
  readonly function: FunctionId;
  readonly assessment: Assessment;
  /** The index of the last step that was pressed in, from 0. */
  readonly step: number;
}

/** Where presses place it, for every function that was pressed in even movements of its own and not found good. */
export const placedIn = (view: RunView, profile: Profile, known: Known = USUAL): readonly PlacedPresses[] =>
  [...lastPressed(view)].flatMap(([id, step]) => {
    const assessment = assess(watchesOf(view, profile, id).map(known.measured), known.unknowns);
    return assessment ? [{ function: id, assessment, step }] : [];
  });

/** The index of the last step that was pressed in, for each of these functions. */
export const lastPressed = ({ steps }: RunView): ReadonlyMap<FunctionId, number> =>
  new Map(
    steps.flatMap((step, at) => {
      const [id] = step.functions;
      return id && placesPresses(step, id) && speaksOf(step, id) ? [[id, at] as const] : [];
    }),
  );

/** Pressed, and not for something else: whoever names only what the rest of the fixture did says nothing of this function. */
const speaksOf = ({ judged, presses }: StepView, id: FunctionId): boolean =>
  presses.length > 0 &&
  (judged?.result === "fail" || judged?.result === "unsure") &&
  (judged.symptoms.length === 0 || judged.symptoms.some((one) => one.function === id));

/** The pattern of places as symptoms of its own, once it is settled; nothing before. */
export const symptomsOfPlace = (
  { function: id, assessment }: PlacedPresses,
  profile: Profile,
): readonly ReportedSymptom[] => {
  const { settled, watches } = assessment;
  const mechanism = fittedOf(profile).find((one) => one.function === id)?.mechanism;
  const travel = watches[0]?.travel;
  if (!settled || !mechanism || !travel) return [];
  return patternSymptoms(settled, travel, mechanism).map((symptom) => ({ symptom, function: id }));
};

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

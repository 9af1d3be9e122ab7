import { fittedOf, type Profile } from "../../data/profile/profile.ts";
import { type Assessment, assess, patternSymptoms } from "../../diagnosis/places/assessment.ts";
import { type Known, USUAL } from "../../diagnosis/places/known.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { ReportedSymptom } from "./event.ts";
import type { RunView, StepView } from "./view.ts";
import { placesPresses, watchesOf } from "./watches.ts";

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

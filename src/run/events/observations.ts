import { fittedOf, type Profile } from "../../data/profile/profile.ts";
import type { InspectionAnswer, Observation } from "../../diagnosis/model/observation.ts";
import type { Fitted } from "../../diagnosis/model/places.ts";
import { type Known, USUAL } from "../../diagnosis/places/known.ts";
import type { ReportedSymptom } from "./event.ts";
import { placedIn, symptomsOfPlace } from "./placed.ts";
import { saidObservations } from "./said-symptoms.ts";
import type { RunView, StepView } from "./view.ts";

/**
 * What a run says about the fixture, in the fault model's own shape: one observation for each judged step, and what the fixture last said of itself. Where presses
 * settle a pattern it is a symptom too, of the last step that was pressed in: one finding, however many steps it took.
 */
export const observationsOf = (run: RunView, profile: Profile, known: Known = USUAL): readonly Observation[] => {
  const fitted = fittedOf(profile);
  const placed = placedIn(run, profile, known);
  const said = run.said.at(-1);
  const watched = run.steps.flatMap((step, index) => {
    const patterns = placed.filter((one) => one.step === index).flatMap((one) => symptomsOfPlace(one, profile));
    return observationOf(step, movementsIn(run, index), fitted, patterns);
  });
  return said ? [...watched, ...saidObservations(said, profile)] : watched;
};

/** The movements of what moved most in a step, as it was compiled. */
const movementsIn = ({ opened, added }: RunView, index: number): number => {
  const step = [...(opened?.steps ?? []), ...added][index];
  return Math.max(
    1,
    ...(step?.functions ?? []).map((id) => (step?.moves ?? []).filter(([moved]) => moved === id).length),
  );
};

const observationOf = (
  { routine, functions, judged }: StepView,
  movements: number,
  fitted: readonly Fitted[],
  patterns: readonly ReportedSymptom[],
): readonly Observation[] => {
  if (!judged) return [];
  const { result, symptoms, watched, lit_min, attitude } = judged;
  return [
    {
      routine,
      functions: fitted.filter((one) => functions.includes(one.function)),
      result,
      symptoms: [...symptoms, ...patterns].map(({ symptom, function: id }) => ({ symptom, function: id })),
      watched,
      litMinutes: lit_min,
      attitude,
      movements,
    },
  ];
};

/** What the inspections said, and the measurement that stands for one, the latest answer last. */
export const answersOf = (run: Pick<RunView, "inspected" | "readings">): readonly InspectionAnswer[] => [
  ...run.inspected.map(({ inspection, answer }) => ({ inspection, answer })),
  ...run.readings.flatMap(({ reading, verdict }): readonly InspectionAnswer[] =>
    reading === "earth-continuity" && verdict !== "not-taken"
      ? [{ inspection: reading, answer: verdict === "within" ? "good" : "bad" }]
      : [],
  ),
];

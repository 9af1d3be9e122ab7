import { fittedOf, type Profile } from "../../data/profile/profile.ts";
import type { InspectionAnswer, Observation } from "../../diagnosis/model/observation.ts";
import type { Fitted } from "../../diagnosis/model/places.ts";
import { type Known, USUAL } from "../../diagnosis/places/known.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { ReportedSymptom } from "./event.ts";
import { placedIn, symptomsOfPlace } from "./placed.ts";
import { saidObservations } from "./said-symptoms.ts";
import { allPresses, resultOf } from "./unasked.ts";
import type { RunView, StepView } from "./view.ts";

/** A step that was pressed in and not answered for: while the run goes on it may still be asked about; after that nobody asks any more. */
type Unanswered = "may still be asked" | "counts as unsure";

/**
 * What a run says about the fixture, in the fault model's own shape: one observation for each judged step, and what the fixture last said of itself. A step that
 * was pressed in counts as unsure once nobody will ask any more. Where presses settle a pattern it is a symptom too, of the last step that was pressed in: one finding, however many steps it took.
 */
export const observationsOf = (
  run: RunView,
  profile: Profile,
  known: Known = USUAL,
  unanswered: Unanswered = "counts as unsure",
): readonly Observation[] => {
  const fitted = fittedOf(profile);
  const placed = placedIn(run, profile, known);
  const said = run.said.at(-1);
  const watched = run.steps.flatMap((step, index) => {
    const patterns = placed.filter((one) => one.step === index).flatMap((one) => symptomsOfPlace(one, profile));
    return observationOf(step, unanswered, movementsIn(run, index), fitted, patterns);
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

/** The fault model knows no test of a fixture's own: it moves and shows what a reset does (common practice, no source). */
const asKnown = (routine: RoutineId): RoutineId => (routine === "self-test" ? "home" : routine);

const observationOf = (
  step: StepView,
  unanswered: Unanswered,
  movements: number,
  fitted: readonly Fitted[],
  patterns: readonly ReportedSymptom[],
): readonly Observation[] => {
  const { functions, judged } = step;
  const moved = {
    routine: asKnown(step.routine),
    functions: fitted.filter((one) => functions.includes(one.function)),
    movements,
  };
  const presses = allPresses(step);
  if (!judged) {
    if (presses === 0) return [];
    const result = unanswered === "may still be asked" ? "not-asked" : resultOf(step);
    return [{ ...moved, ...UNDESCRIBED, result, presses }];
  }
  const { result, symptoms, watched, lit_min, attitude } = judged;
  return [
    {
      ...moved,
      result,
      symptoms: [...symptoms, ...patterns].map(({ symptom, function: id }) => ({ symptom, function: id })),
      watched,
      litMinutes: lit_min,
      attitude,
      presses,
    },
  ];
};

/** Something was seen, and nobody was asked what. When, and how long lit, stands nowhere. */
const UNDESCRIBED = {
  symptoms: [],
  watched: "attended",
  litMinutes: 0,
  attitude: "standing",
} as const;

/** What the inspections said, and the measurement that stands for one, the latest answer last. */
export const answersOf = (run: Pick<RunView, "inspected" | "readings">): readonly InspectionAnswer[] => [
  ...run.inspected.map(({ inspection, answer }) => ({ inspection, answer })),
  ...run.readings.flatMap(({ reading, verdict }): readonly InspectionAnswer[] =>
    reading === "earth-continuity" && verdict !== "not-taken"
      ? [{ inspection: reading, answer: verdict === "within" ? "good" : "bad" }]
      : [],
  ),
];

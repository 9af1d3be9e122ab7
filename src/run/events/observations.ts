import { fittedOf, type Profile, physicalOf, travelOf } from "../../data/profile/profile.ts";
import { LEANS_OTHERWISE } from "../../diagnosis/model/circumstances.ts";
import type { Circumstances, InspectionAnswer, Observation } from "../../diagnosis/model/observation.ts";
import type { Fitted } from "../../diagnosis/model/places.ts";
import { type Known, USUAL } from "../../diagnosis/places/known.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import { secondsOf } from "../../domain/units.ts";
import { travelTime } from "../../plan/score.ts";
import type { ReportedSymptom } from "./event.ts";
import { placedIn, symptomsOfPlace } from "./placed.ts";
import { saidObservations } from "./said-symptoms.ts";
import { allPresses, resultOf } from "./step-results.ts";
import type { Planned, RunView, StepView } from "./view.ts";

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
    const played = { movements: movementsIn(run, index), circumstances: circumstancesIn(run, index, profile) };
    return observationOf(step, unanswered, played, fitted, patterns);
  });
  return said ? [...watched, ...saidObservations(said, profile)] : watched;
};

/** The movements of what moved most in a step, as it was compiled. */
const movementsIn = (run: RunView, index: number): number => {
  const step = plannedIn(run, index);
  return Math.max(
    1,
    ...(step?.functions ?? []).map((id) => (step?.moves ?? []).filter(([moved]) => moved === id).length),
  );
};

const plannedIn = ({ opened, added }: RunView, index: number): Planned | undefined =>
  [...(opened?.steps ?? []), ...added][index];

/** How a step was played, from the step as it was compiled. */
const circumstancesIn = (run: RunView, index: number, profile: Profile): Circumstances => {
  const tilt = tiltIn(plannedIn(run, index), profile);
  const { routine, functions } = run.steps[index] ?? { routine: "hold", functions: [] };
  const otherwise = run.steps.slice(0, index).some((earlier, at) => {
    if (earlier.routine !== routine || !isWatched(earlier) || !functions.some((id) => earlier.functions.includes(id)))
      return false;
    const [low, high] = tiltIn(plannedIn(run, at), profile);
    return Math.abs((low + high) / 2 - (tilt[0] + tilt[1]) / 2) >= LEANS_OTHERWISE;
  });
  return {
    tilt,
    leanings: otherwise ? "two" : "one",
    beam: plannedIn(run, index)?.beam ?? "shut",
    speed: speedIn(plannedIn(run, index), profile),
  };
};

const isWatched = ({ judged }: StepView): boolean => judged?.result === "pass" || judged?.result === "fail";

/** Least and most tilt in a step, as it is commanded; without a tilt it stands as it was put. */
const tiltIn = (planned: Planned | undefined, profile: Profile): Circumstances["tilt"] => {
  const travel = travelOf(profile, "Tilt");
  if (!planned || !travel) return [0, 0];
  const raws = [
    ...planned.start.flatMap(([id, raw]) => (id === "Tilt" ? [raw] : [])),
    ...planned.moves.flatMap(([id, from, to]) => (id === "Tilt" ? [from, to] : [])),
  ].map((raw) => physicalOf(travel, raw));
  return raws.length === 0 ? [0, 0] : [Math.min(...raws), Math.max(...raws)];
};

/** The fastest movement of what is tested, as a share of the speed that the fixture has; what is no travel jumps. */
const speedIn = (planned: Planned | undefined, profile: Profile): number =>
  Math.max(
    0,
    ...(planned?.moves ?? [])
      .filter(([id]) => planned?.functions.includes(id))
      .map(([id, from, to, , frames]) => {
        const least = travelTime(profile, id, from, to);
        return frames === 0 ? 1 : Math.min(1, least / secondsOf(frames));
      }),
  );

/** The fault model knows no test of a fixture's own: it moves and shows what a reset does (common practice, no source). */
const asKnown = (routine: RoutineId): RoutineId => (routine === "self-test" ? "home" : routine);

const observationOf = (
  step: StepView,
  unanswered: Unanswered,
  played: Pick<Required<Observation>, "movements" | "circumstances">,
  fitted: readonly Fitted[],
  patterns: readonly ReportedSymptom[],
): readonly Observation[] => {
  const { functions, judged } = step;
  const moved = {
    routine: asKnown(step.routine),
    functions: fitted.filter((one) => functions.includes(one.function)),
    ...played,
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

import type { Fitted } from "../faults/network.ts";
import type { InspectionAnswer, Observation } from "../faults/observation.ts";
import type { RunView, StepView } from "./view.ts";

/** What a run says about the fixture, in the fault model's own shape: one observation for each judged step. */
export const observationsOf = (run: RunView, fitted: readonly Fitted[]): readonly Observation[] =>
  run.steps.flatMap((step) => observationOf(step, fitted));

const observationOf = ({ routine, functions, judged }: StepView, fitted: readonly Fitted[]): readonly Observation[] => {
  if (!judged) return [];
  const { result, symptoms, watched, lit_min, attitude } = judged;
  return [
    {
      routine,
      functions: fitted.filter((one) => functions.includes(one.function)),
      result,
      symptoms: symptoms.map(({ symptom, function: id }) => ({ symptom, function: id })),
      watched,
      litMinutes: lit_min,
      attitude,
    },
  ];
};

/** What the looks by hand said, the latest answer last. */
export const answersOf = (run: RunView): readonly InspectionAnswer[] =>
  run.inspected.map(({ inspection, answer }) => ({ inspection, answer }));

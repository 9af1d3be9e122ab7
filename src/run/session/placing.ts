import { totalOf } from "../../diagnosis/places/likelihood.ts";
import { lastPressed, placesPresses, watchesOf } from "../events/placed.ts";
import { addedTests } from "../events/step-results.ts";
import { isAdded } from "../events/view.ts";
import { MOST_ADDED } from "./advising.ts";
import type { Diagnosis } from "./diagnose.ts";
import type { Placed, Session } from "./session.ts";

/**
 * Whether the presses of a step, or of a step that was added to tell more, are worth placing. Quick: nothing is worked out.
 * `index` is the step's place in the run, from 0.
 */
export const isWorthPlacing = (session: Session, index: number): boolean => {
  const { job, view } = session;
  const step = view.steps[index];
  const [id] = step?.functions ?? [];
  if (!step || !id || !placesPresses(step, id)) return false;
  const last = lastPressed(view).get(id);
  if (isAdded(view, index)) return last !== undefined;
  return last === index && totalOf(watchesOf(view, job.timeline.profile, id)).presses >= WORTH_PLACING;
};

/** One press alone says nothing of places; what would tell more is offered when the plan is through. */
const WORTH_PLACING = 2;
const MOST_FAULTS = 3;

/**
 * Where in the travel it was pressed, what it may be now, and what would tell more. Undefined where the presses of this step
 * cannot be placed.
 */
export const placedAt = ({ view }: Session, index: number, { places, ranking }: Diagnosis): Placed | undefined => {
  const [id] = view.steps[index]?.functions ?? [];
  const found = places.find((one) => one.function === id);
  if (!found) return undefined;
  return {
    kind: "placed",
    index,
    function: found.function,
    assessment: found.assessment,
    tests: addedTests(view).length >= MOST_ADDED ? [] : found.tests,
    faults: ranking.faults.slice(0, MOST_FAULTS),
  };
};

import { fittedOf } from "../../data/profile/profile.ts";
import { rank } from "../../diagnosis/model/rank.ts";
import { type FollowUp, followUps } from "../../diagnosis/places/follow-up.ts";
import { totalOf } from "../../diagnosis/places/likelihood.ts";
import { settingAfter } from "../../plan/compile.ts";
import { answersOf, observationsOf } from "../events/observations.ts";
import { placedIn } from "../events/placed.ts";
import { isAdded } from "../events/view.ts";
import { placesPresses } from "../events/watches.ts";
import { MOST_ADDED } from "./adding.ts";
import { knownIn, stepAt } from "./job.ts";
import type { Placed, Session } from "./session.ts";

/**
 * After a step that was pressed in, or that was added to tell more: where in the travel it was, what it may be now, and what
 * would tell more. Undefined where the presses of this step cannot be placed.
 */
export const placedAt = (session: Session, index: number): Placed | undefined => {
  const { job, view } = session;
  const step = view.steps[index];
  const [id] = step?.functions ?? [];
  if (!step || !id || !placesPresses(step, id)) return undefined;
  const { profile } = job.timeline;
  const known = knownIn(session);
  const placed = placedIn(view, profile, known).find((one) => one.function === id);
  if (!placed || (placed.step !== index && !isAdded(view, index))) return undefined;
  const { assessment } = placed;
  if (!isAdded(view, index) && totalOf(assessment.watches).presses < WORTH_PLACING) return undefined;
  const { faults } = rank(fittedOf(profile), observationsOf(view, profile, known), answersOf(view), job.learned);
  return {
    kind: "placed",
    index,
    function: id,
    assessment,
    tests: testsAfter(session, index, placed),
    faults: faults.slice(0, MOST_FAULTS),
  };
};

/** One press alone says nothing of places; what would tell more is offered when the plan is through. */
const WORTH_PLACING = 2;
const MOST_FAULTS = 3;
const MOST_TESTS = 3;

/** What would settle the pattern, or tell more once it is settled; from where the step before left the fixture. */
export const testsAfter = (
  { job, view }: Session,
  index: number,
  { function: id, assessment }: Pick<Placed, "function" | "assessment">,
): readonly FollowUp[] => {
  if (view.added.length >= MOST_ADDED) return [];
  const rig = { profile: job.timeline.profile, bench: job.bench, before: settingAfter(stepAt(job, index)) };
  return followUps(rig, id, assessment).slice(0, MOST_TESTS);
};

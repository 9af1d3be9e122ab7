import type { Case } from "../faults/case.ts";
import { caseFrom } from "../faults/case-from.ts";
import { FAULTS, type FaultId } from "../faults/knowledge/faults.ts";
import type { InspectionAnswer } from "../faults/observation.ts";
import { fittedOf, type Profile } from "../profile/profile.ts";
import { answersOf, observationsOf } from "./observations.ts";
import type { RunView } from "./view.ts";

/** A run whose outcome is known, with what its fixture is. */
export interface KnownRun {
  readonly run: string;
  readonly view: RunView;
  readonly profile: Profile;
}

/** Cases to learn from: real runs in which somebody said what was found. Nothing is learned from a simulation. */
export const casesOf = (runs: readonly KnownRun[]): readonly Case[] =>
  runs.flatMap((one) => {
    const { view, profile, run } = one;
    if (view.opened?.simulated !== false || view.found.length === 0) return [];
    const answers = answersOf(view);
    const confirmed = view.found.flatMap((found) => (found.what === "fault" ? [found.fault] : []));
    const rest = runs.some((other) => other.view.opened?.replays === run && passedWhole(other.view))
      ? "absent"
      : "unknown";
    return [
      caseFrom(fittedOf(profile), observationsOf(view, profile), answers, {
        confirmed,
        cleared: clearedBy(answers, confirmed),
        rest,
      }),
    ];
  });

/** Looked for where it shows best, and not there. */
const clearedBy = (answers: readonly InspectionAnswer[], confirmed: readonly FaultId[]): readonly FaultId[] =>
  FAULTS.filter(({ id, found }) => {
    const [best] = Object.entries(found).sort(([, a], [, b]) => b - a);
    return (
      best && !confirmed.includes(id) && answers.findLast(({ inspection }) => inspection === best[0])?.answer === "good"
    );
  }).map(({ id }) => id);

/** What was not found is known to be absent only when the fixture passed everything afterwards. */
const passedWhole = ({ closed, steps }: RunView): boolean =>
  closed === "finished" && steps.every(({ judged }) => judged?.result === "pass" || judged?.result === "not-fitted");

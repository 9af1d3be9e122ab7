import { bad, good, problem, type Result } from "../problem/problem.ts";
import { fittedOf } from "../profile/profile.ts";
import type { Planned } from "../record/view.ts";
import { disturbedBy, isDisturbed, mendedIn } from "../release/disturbed.ts";
import type { History } from "../release/history.ts";
import { eventsIn } from "../release/moment.ts";
import type { Sequence, Step } from "../sequence/sequence.ts";
import type { KeptRun } from "./kept-run.ts";

/** Which steps of a run are played again. */
export const REPLAY_CHOICES = ["all", "failed", "disturbed"] as const;
export type ReplayChoice = (typeof REPLAY_CHOICES)[number];

/** The steps to be played again, those that were added in the course of the run among them; or why there are none. */
export const stepsToReplay = (kept: KeptRun, history: History, only: ReplayChoice): Result<readonly Planned[]> => {
  const { opened, view, run } = kept;
  const planned = [...opened.steps, ...view.added];
  if (only === "all") return good(planned);
  const chosen = new Set(only === "failed" ? failedIn(kept) : disturbedIn(kept, history));
  if (chosen.size === 0)
    return bad(
      problem(run, only === "failed" ? "nothing failed in this run" : "no repair has disturbed a step of this run"),
    );
  return good(withPowerUp(planned, chosen));
};

const failedIn = ({ view }: KeptRun): readonly string[] =>
  view.steps.flatMap(({ id, judged }) => (judged?.result === "fail" || judged?.result === "unsure" ? [id] : []));

/** By every repair of the fixture since the run began. */
const disturbedIn = ({ run, opened, view, material }: KeptRun, history: History): readonly string[] => {
  const began = history.findIndex((one) => one.run === run);
  const fitted = fittedOf(material.profile.value);
  const repairs = eventsIn(history.slice(Math.max(0, began)), "repaired").map(({ body }) =>
    disturbedBy(mendedIn(body)),
  );
  return [...opened.steps, ...view.added].flatMap((step) =>
    step.fitted && repairs.some((disturbed) => isDisturbed(step, disturbed, fitted)) ? [step.id] : [],
  );
};

/** In the order of the run; one that began with a watched power-up begins with it again, since the mains was off. */
const withPowerUp = (planned: readonly Planned[], chosen: ReadonlySet<string>): readonly Planned[] => {
  const first = planned.find(({ fitted }) => fitted);
  return planned.filter((step) => chosen.has(step.id) || (step === first && step.routine === "power-up"));
};

/** The sequence of a replay: the played steps as they were written, and nothing by hand. */
export const replayedSequence = (sequence: Sequence, steps: readonly Planned[]): Sequence => ({
  ...sequence,
  byHand: [],
  steps: steps.map(({ id, routine, functions, line }): Step => {
    const written = sequence.steps.find((step) => step.id === id);
    return written ?? { id, routine, functions, line, options: {} };
  }),
});

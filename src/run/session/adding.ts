import type { Step } from "../../data/sequence/sequence.ts";
import { compileStep, settingAfter } from "../../plan/compile.ts";
import { plannedStep } from "../../plan/stored.ts";
import { andThen, type Change, stay, write } from "./change.ts";
import { stepAt, withStep } from "./job.ts";
import type { Next } from "./next.ts";
import type { Session } from "./session.ts";

/** So many tests are added to a run at most; after that it is time to open the fixture. */
export const MOST_ADDED = 8;

/** Plays a test at once, as a step of its own at the end of the run; `after` is the step that was played last. */
export const addStep = (
  session: Session,
  wanted: Omit<Step, "id" | "line">,
  after: number | undefined,
  go: (session: Session, next: Next) => Change,
): Change => {
  const { job, view } = session;
  const { profile } = job.timeline;
  const written: Step = { ...wanted, id: `added-${view.added.length + 1}-${wanted.routine}`, line: 0 };
  const before = after === undefined ? profile.rest : settingAfter(stepAt(job, after));
  const step = compileStep(profile, job.bench, written, before, 1);
  if (!step.fitted) return stay(session);
  const added: Session = { ...session, job: withStep(job, step, written) };
  return andThen(write(added, { kind: "step-added", step: plannedStep(profile, step) }), (s) =>
    go(s, { index: view.steps.length, frame: 0, pace: 1, lost: false }),
  );
};

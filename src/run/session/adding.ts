import type { Step } from "../../data/sequence/sequence.ts";
import { compileStep, settingAfter } from "../../plan/compile.ts";
import { plannedStep } from "../../plan/stored.ts";
import { andThen, stay } from "../machine/running.ts";
import { type Change, write } from "./change.ts";
import { towards } from "./flow.ts";
import type { Stamped } from "./input.ts";
import { stepAt, withStep } from "./job.ts";
import type { Offered } from "./offered.ts";
import { ownTestName, ownTestStep } from "./own-test.ts";
import type { Session, Stage } from "./session.ts";

/** Plays a test at once, as a step of its own at the end of the run; `after` is the step that was played last. */
export const addStep = (
  session: Session,
  wanted: Omit<Step, "id" | "line">,
  after: number | undefined,
  name: string = wanted.routine,
): Change => {
  const { job, view } = session;
  const { profile } = job.timeline;
  const written: Step = { ...wanted, id: `added-${view.added.length + 1}-${name}`, line: 0 };
  const before = after === undefined ? profile.rest : settingAfter(stepAt(job, after));
  const step = compileStep(profile, job.bench, written, before, 1);
  if (!step.fitted) return stay(session);
  const added: Session = { ...session, job: withStep(job, step, written) };
  return andThen(write(added, { kind: "step-added", step: plannedStep(profile, step) }), (s) =>
    towards(s, { index: view.steps.length, frame: 0, pace: 1, lost: false }),
  );
};

/** One key runs an offered test at once, as a step of its own at the end of the run. */
export const choose = (
  session: Session,
  { offers }: Extract<Stage, { kind: "what-next" }>,
  input: Extract<Stamped, { kind: "choose" }>,
): Change => {
  const offer = offers[input.offer];
  if (!offer || offer.kind === "inspection") return stay(session);
  const fitted = session.job.timeline.steps.findLastIndex(({ fitted }) => fitted);
  const last = fitted < 0 ? undefined : fitted;
  if (offer.kind === "own-test") return addStep(session, ownTestStep(offer), last, ownTestName(offer.number));
  return addStep(session, wantedBy(offer), last);
};

const wantedBy = (offer: Exclude<Offered, { kind: "inspection" | "own-test" }>) => {
  if (offer.kind === "follow-up") return offer.test.step;
  return { routine: offer.routine, functions: offer.function === undefined ? [] : [offer.function], options: {} };
};

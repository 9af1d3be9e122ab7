import { type Offer, whatNext } from "../faults/next.ts";
import { fittedOf } from "../profile/profile.ts";
import { answersOf, observationsOf } from "../record/observations.ts";
import { compileStep, settingAfter } from "../timeline/compile.ts";
import { plannedStep } from "../timeline/stored.ts";
import type { CompiledStep } from "../timeline/timeline.ts";
import { andThen, type Change, stay, write } from "./change.ts";
import type { Stamped } from "./input.ts";
import { withStep } from "./job.ts";
import type { Next, Session, Stage } from "./session.ts";

/** So many tests are added to a run at most; after that it is time to open the fixture. */
const MOST_ADDED = 8;

/** What could still tell more, when all planned steps are answered and something was wrong: offered only where a test without opening is among it. */
export const offersNow = ({ job, view }: Session): readonly Offer[] => {
  const wrong = view.steps.some(({ judged }) => judged?.result === "fail" || judged?.result === "unsure");
  if (!wrong || view.added.length >= MOST_ADDED) return [];
  const { profile } = job.timeline;
  const advice = whatNext(fittedOf(profile), observationsOf(view, profile), answersOf(view), [], job.learned);
  return advice.kind === "offers" && advice.offers.some(({ kind }) => kind === "driven") ? advice.offers : [];
};

/** One key runs an offered test at once, as a step of its own at the end of the run. */
export const choose = (
  session: Session,
  { offers }: Extract<Stage, { kind: "what-next" }>,
  input: Extract<Stamped, { kind: "choose" }>,
  go: (session: Session, next: Next) => Change,
): Change => {
  const offer = offers[input.offer];
  if (offer?.kind !== "driven") return stay(session);
  const { job, view } = session;
  const step = followUp(session, offer);
  if (!step.fitted) return stay(session);
  const added: Session = { ...session, job: withStep(job, step) };
  return andThen(write(added, { kind: "step-added", step: stored(session, step) }), (s) =>
    go(s, { index: view.steps.length, frame: 0, pace: 1, lost: false }),
  );
};

const followUp = (
  { job, view }: Session,
  { routine, function: id }: Extract<Offer, { kind: "driven" }>,
): CompiledStep => {
  const { profile, steps } = job.timeline;
  const last = steps.findLast(({ fitted }) => fitted);
  const functions = id === undefined ? [] : [id];
  const step = { id: `added-${view.added.length + 1}-${routine}`, routine, functions, options: {}, line: 0 };
  return compileStep(profile, job.bench, step, last ? settingAfter(last) : profile.rest, 1);
};

/** Mutable arrays, as the journal's schema has them. */
const stored = ({ job }: Session, step: CompiledStep) => {
  const planned = plannedStep(job.timeline.profile, step);
  return {
    ...planned,
    functions: [...planned.functions],
    start: [...planned.start],
    moves: [...planned.moves],
    notes: [...planned.notes],
  };
};

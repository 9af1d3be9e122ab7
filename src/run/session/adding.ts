import type { Step } from "../../data/sequence/sequence.ts";
import { compileStep, settingAfter } from "../../plan/compile.ts";
import { plannedStep } from "../../plan/stored.ts";
import type { CompiledStep } from "../../plan/timeline.ts";
import { addedName } from "../events/step-results.ts";
import type { Stamped } from "../machine/input.ts";
import { andThen, stay } from "../machine/running.ts";
import { type Change, write } from "./change.ts";
import { goOn, towards } from "./flow.ts";
import { stepAt, withStep } from "./job.ts";
import { type Offered, ownTestName, ownTestStep } from "./offered.ts";
import type { Session, StageOf } from "./session.ts";

type Wanted = Omit<Step, "id" | "line">;

/** Plays a test at once, as a step of its own at the end of the run; `after` is the step that was played last. */
export const addStep = (
  session: Session,
  wanted: Wanted,
  after: number | undefined,
  name: string = wanted.routine,
): Change => addSteps(session, [{ ...wanted, name }], after);

/** The same of a test that takes several steps, each answered by itself; of these what the fixture has not is left out. */
const addSteps = (
  session: Session,
  wanted: readonly (Wanted & { readonly name: string })[],
  after: number | undefined,
): Change => {
  const { job, view } = session;
  const first = view.added.length + 1;
  let before = after === undefined ? job.timeline.profile.rest : settingAfter(stepAt(job, after));
  const steps = wanted.flatMap(({ name, ...one }, at): readonly NewStep[] => {
    const written: Step = { ...one, id: addedName(first + at, at === 0 ? undefined : first, name), line: 0 };
    const compiled = compileStep(job.timeline.profile, job.bench, written, before, 1);
    if (!compiled.fitted) return [];
    before = settingAfter(compiled);
    return [{ written, compiled }];
  });
  if (steps.length === 0) return stay(session);
  const added = steps.reduce<Change>((change, step) => andThen(change, (s) => withNew(s, step)), stay(session));
  return andThen(added, (s) => towards(s, { index: view.steps.length, frame: 0, pace: 1, lost: false }));
};

interface NewStep {
  readonly written: Step;
  readonly compiled: CompiledStep;
}

/** The run with one step more at its end, written and not yet played. */
export const withNew = (session: Session, { written, compiled }: NewStep): Change =>
  write(
    { ...session, job: withStep(session.job, compiled, written) },
    { kind: "step-added", step: plannedStep(session.job.timeline.profile, compiled) },
  );

/** One key runs an offered test at once, as steps of their own at the end of the run; or leads to an offered inspection. */
export const choose = (
  session: Session,
  { offers }: StageOf<"what-next">,
  input: Extract<Stamped, { kind: "choose" }>,
): Change => {
  const offer = offers[input.offer];
  if (!offer) return stay(session);
  if (offer.kind === "inspection") return goOn({ ...session, chosen: offer.inspection, inOneGo: MOST_IN_ONE_GO - 1 });
  const fitted = session.job.timeline.steps.findLastIndex(({ fitted }) => fitted);
  const last = fitted < 0 ? undefined : fitted;
  const wanted =
    offer.kind === "own-test" ? [{ ...ownTestStep(offer), name: ownTestName(offer.number) }] : wantedBy(offer);
  return addSteps(session, session.holds.includes("unplugged") ? [POWER_UP, ...wanted] : wanted, last);
};

/** With a cover off one goes on to what else is worth it there; after so many in vain it is time to think. Judgement. */
const MOST_IN_ONE_GO = 5;

/** Whoever inspected it has unplugged it: it is switched on, and watched as it comes up, before anything is driven. */
const POWER_UP = { routine: "power-up", functions: [], options: {}, name: "power-up" } as const;

const wantedBy = (offer: Exclude<Offered, { kind: "inspection" | "own-test" }>) => {
  if (offer.kind === "follow-up") return [{ ...offer.test.step, name: offer.test.step.routine }];
  const tests = offer.kind === "try-out" ? offer.tests : [offer];
  return tests.flatMap(({ under, steps }) =>
    steps.map((step) => ({ ...step, name: `${under === "as usual" ? "" : `${under}-`}${step.routine}` })),
  );
};

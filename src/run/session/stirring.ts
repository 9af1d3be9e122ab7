import { type Moved, whatMoved } from "../../data/rack/what-moved.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import { compileStep } from "../../plan/compile.ts";
import { withEffects } from "../machine/running.ts";
import type { Change } from "./change.ts";
import { questionOf, type Session } from "./session.ts";

/** What the answers so far say of how the fixture is set, and which function would tell most if it were moved. */
export const concluded = ({ job }: Session, answers: readonly Moved[]) =>
  whatMoved(job.timeline.profile, job.otherModes, job.opening.fixture.address, answers);

/** Moves a little the function whose answer tells most. `index` is the step's place in the run, from 0. */
export const stir = (session: Session, index: number, answers: readonly Moved[]): Change => {
  const { job } = session;
  const { profile } = job.timeline;
  const { ask } = concluded(session, answers);
  if (ask === undefined) throw new Error("Bug: nothing is left to be stirred");
  const stirring: Session = { ...session, stage: { kind: "stirring", index, ask, answers } };
  const step = compileStep(profile, job.bench, stirOf(ask), profile.rest, 1);
  return withEffects(stirring, { kind: "play", key: questionOf(stirring) ?? "", step, from: 0 });
};

const stirOf = (id: FunctionId) =>
  ({ id: `stir-${id}`, routine: "identify", functions: [id], options: {}, line: 0 }) as const;

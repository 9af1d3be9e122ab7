import type { StepResult } from "../../domain/trade/routines.ts";
import { resultOf } from "../events/step-results.ts";
import { andThen } from "../machine/running.ts";
import { stepAt } from "../session/job.ts";
import { type Batch, type Member, memberAt } from "./batch.ts";
import { type RackChange, write } from "./change.ts";

/** What is known of a fixture of a rack so far: screen and sheet both read it here. */
export type FixtureSeen =
  /** Somebody named what was wrong. */
  | "fault seen"
  /** Pressed for, or nobody was sure, and nothing was named yet. */
  | "suspect"
  | "nothing seen"
  | "not watched";

/** What was seen of a fixture in this run so far. */
export const seenOf = ({ session: { view } }: Member): FixtureSeen => {
  if (view.steps.some(({ judged }) => (judged?.symptoms.length ?? 0) > 0)) return "fault seen";
  const results = new Set<StepResult>(lastWatched(view).map(resultOf));
  if (results.has("fail") || results.has("unsure")) return "suspect";
  return results.has("pass") ? "nothing seen" : "not watched";
};

/** What somebody looked at alone, and answered for, says more than the press in the group that led there. */
const lastWatched = ({ steps, added }: Member["session"]["view"]): Member["session"]["view"]["steps"] => {
  const alone = steps.slice(steps.length - added.length);
  return alone.length > 0 && alone.every(({ judged }) => judged) ? alone : steps;
};

/** Whether any step of any fixture was watched and answered for: else nothing can be said. */
export type RackWatched = "watched" | "not watched";

/** Whether any fixture of the rack was watched at all. */
export const watchedIn = ({ members }: Batch): RackWatched =>
  members.some((member) => seenOf(member) !== "not watched") ? "watched" : "not watched";

/** How it stands with a fixture when the run is over. */
export type StateAtEnd = FixtureSeen | "withdrawn" | "not finished";

/** How a fixture came out of the run. */
export const stateAtEnd = (member: Member): StateAtEnd => {
  if (member.state === "withdrawn") return "withdrawn";
  const seen = seenOf(member);
  const isTold = seen === "fault seen" || seen === "suspect";
  return isTold || member.session.view.closed === "finished" ? seen : "not finished";
};

/** Somebody pressed for one of these, and it was never said which. */
export interface UnnamedPress {
  readonly serials: readonly string[];
  readonly presses: number;
}

/**
 * The presses that were made for one of several fixtures and not yet said for which: once all of them are answered for
 * in that step, it was looked at again.
 */
export const unnamedPresses = ({ record, members }: Batch): readonly UnnamedPress[] =>
  record.unnamed.filter(({ step, serials }) =>
    members.some(
      ({ serial, session }) =>
        serials.includes(serial) && session.view.steps.some(({ id, judged }) => id === step && judged === undefined),
    ),
  );

/** Goes on before it was said which fixture a press was for: the press is kept, so that it is not taken for nothing. */
export const leavingUnnamed = (batch: Batch, then: (batch: Batch) => RackChange): RackChange => {
  const { stage } = batch;
  const presses = openPresses(batch);
  if (presses === 0 || !("next" in stage)) return then(batch);
  const { members, index } = stage.next;
  const serials = members.map((member) => memberAt(batch, member).serial);
  const step = stepAt(memberAt(batch, members[0] ?? 0).session.job, index).id;
  return andThen(write(batch, { kind: "press-unnamed", step, serials, presses }), then);
};

const openPresses = ({ stage, plan }: Batch): number => {
  if (plan.asks !== "who-differs") return 0;
  if (stage.kind === "moving") return stage.unclaimed.length;
  return stage.kind === "which" && stage.named.length === 0 ? stage.presses.length : 0;
};

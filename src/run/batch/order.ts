import { stepAt } from "../session/job.ts";
import type { Batch, Member, RackNext } from "./batch.ts";

/**
 * Where the first pass goes on: the first step of the first turn that somebody who takes part has not been
 * watched at; undefined where there is none.
 */
export const nextTogether = (batch: Batch): RackNext | undefined => {
  for (const [turn, { members, steps }] of batch.plan.turns.entries())
    for (const index of steps) {
      const due = members.filter((member) => isDue(batch, batch.members[member], index));
      if (due.length > 0) return { turn, index, members: due };
    }
  return undefined;
};

const isDue = ({ lost }: Batch, member: Member | undefined, index: number): boolean => {
  if (!member || !takesPart(member) || lost.includes(member.spot.universe)) return false;
  const { job, view, group } = member.session;
  return (
    stepAt(job, index).fitted &&
    view.steps[index]?.judged === undefined &&
    !group.some((played) => played.index === index)
  );
};

/** Whether a fixture still takes part: neither withdrawn nor done with. */
export const takesPart = ({ state, session }: Member): boolean =>
  state === "here" && session.view.closed !== "finished";

/** Whether a fixture was watched at everything that was planned, and something differed. */
export const isOdd = (member: Member): boolean =>
  takesPart(member) &&
  member.session.view.steps.some(({ judged }) => judged?.result === "unsure" || judged?.result === "fail");

/** The fixtures that were watched and whose steps have no answer yet, by their index in the rack, from 0. */
export const unanswered = ({ members }: Batch): readonly number[] =>
  members.flatMap(({ session }, index) => (session.group.length > 0 ? [index] : []));

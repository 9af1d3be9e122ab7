import { type Batch, type Member, memberAt } from "../run/batch/batch.ts";
import { seenOf, stateAtEnd } from "../run/batch/members.ts";

/** How a fixture is doing, in words. `index` is its place in the rack, from 0. */
export const stateOf = (batch: Batch, index: number): string => {
  const member = memberAt(batch, index);
  const { stage } = batch;
  if (member.state === "withdrawn") return "withdrawn";
  if (movesNow(batch, index) && "next" in stage) return movingInWords(member, stage.next.index);
  if ("member" in stage && stage.member === index) return "alone now";
  if (batch.lost.includes(member.spot.universe)) return "line lost";
  if (stage.kind === "finished" || member.session.view.closed === "finished") return stateAtEnd(member);
  if (differs(batch, index)) return "suspect";
  return wasWatched(member) ? "no press yet" : "waits";
};

/** Whether a fixture takes part in what plays now. `index` is its place in the rack, from 0. */
export const movesNow = ({ stage }: Batch, index: number): boolean =>
  (stage.kind === "moving" || stage.kind === "slow-start") && stage.next.members.includes(index);

const movingInWords = ({ session }: Member, step: number): string => {
  const count = session.view.steps[step]?.presses.length ?? 0;
  return count === 0 ? "moves now" : `pressed ${count === 1 ? "once" : `${count} times`}`;
};

/**
 * Whether something was seen of a fixture, or pressed for it, whatever it does now.
 * `index` is its place in the rack, from 0.
 */
export const differs = (batch: Batch, index: number): boolean =>
  ["fault seen", "suspect"].includes(seenOf(memberAt(batch, index)));

const wasWatched = ({ session: { group, view } }: Member): boolean =>
  group.length > 0 || view.steps.some(({ judged }) => judged !== undefined && judged.result !== "not-fitted");

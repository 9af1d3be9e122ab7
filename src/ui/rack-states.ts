import { type Batch, type Member, memberAt } from "../run/batch/batch.ts";
import { isOdd } from "../run/batch/order.ts";

/** How it is with a fixture, in words. */
export const stateOf = (batch: Batch, index: number): string => {
  const member = memberAt(batch, index);
  const { stage } = batch;
  if (member.state === "withdrawn") return "withdrawn";
  if (isMoving(batch, index) && "next" in stage) return movingInWords(member, stage.next.index);
  if ("member" in stage && stage.member === index) return "alone now";
  if (batch.lost.includes(member.spot.universe)) return "line lost";
  if (member.session.view.closed === "finished") return hasSymptoms(member) ? "fault seen" : "nothing seen";
  if (isOdd(member) || hasPresses(member)) return "suspect";
  return wasWatched(member) ? "no press yet" : "waits";
};

/** It takes part in what plays now. */
export const isMoving = ({ stage }: Batch, index: number): boolean =>
  (stage.kind === "moving" || stage.kind === "slow-start") && stage.next.members.includes(index);

const movingInWords = ({ session }: Member, step: number): string => {
  const count = session.view.steps[step]?.presses.length ?? 0;
  return count === 0 ? "moves now" : `pressed ${count === 1 ? "once" : `${count} times`}`;
};

/** Something was seen of it, or pressed for, whatever it does now. */
export const differs = (batch: Batch, index: number): boolean => {
  const member = memberAt(batch, index);
  return isOdd(member) || hasPresses(member) || hasSymptoms(member);
};

const wasWatched = ({ session: { group, view } }: Member): boolean =>
  group.length > 0 || view.steps.some(({ judged }) => judged !== undefined && judged.result !== "not-fitted");
const hasSymptoms = ({ session }: Member): boolean =>
  session.view.steps.some(({ judged }) => (judged?.symptoms.length ?? 0) > 0);
const hasPresses = ({ session }: Member): boolean =>
  session.view.steps.some(({ presses, judged }) => presses.length > 0 && judged === undefined);

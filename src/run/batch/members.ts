import type { StepResult } from "../../domain/trade/routines.ts";
import { resultOf } from "../events/step-results.ts";
import { hasLine } from "../machine/stages.ts";
import { type AskingTime, askingTime, type FixtureQuestion, wantedOf } from "../session/asked.ts";
import { stepAt } from "../session/job.ts";
import { type Batch, type Member, memberAt, type RackNext } from "./batch.ts";

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

/** What one fixture is to be asked itself just now; nothing most of the time. */
const questionTo = ({ session, run, serial, spot }: Member, time: AskingTime): readonly FixtureQuestion[] => {
  const wanted = wantedOf(session, time);
  const { universe, address } = spot;
  return wanted ? [{ run, serial, universe, address, wanted, litSince: session.litSince }] : [];
};

/**
 * Who is to be asked something just now: everybody of a rack who is there and has power, not before the slow movement was
 * shown; one that is looked at alone by all that its own run knows of the moment.
 */
export const rackQuestions = (batch: Batch): readonly FixtureQuestion[] => {
  const time = rackTime(batch);
  const alone = batch.stage.kind === "alone" ? batch.stage.member : undefined;
  return batch.members.flatMap((member, index) => {
    if (index === alone) return questionTo(member, askingTime(member.session));
    return member.state === "here" ? questionTo(member, time) : [];
  });
};

const rackTime = (batch: Batch): AskingTime => {
  const { stage, slowShown } = batch;
  if (!slowShown || !hasLine(stage.kind)) return "not now";
  if (stage.kind !== "moving") return "while it stands";
  const { members, index } = stage.next;
  const soaks = members.some((one) => stepAt(memberAt(batch, one).session.job, index).routine === "soak");
  return soaks ? "while it soaks" : "while it stands";
};

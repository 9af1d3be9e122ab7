import { type AskingTime, askingTime, type FixtureQuestion, wantedOf } from "../session/asked.ts";
import { stepAt } from "../session/job.ts";
import type { Session } from "../session/session.ts";
import { type Batch, memberAt, type RackStage } from "./batch.ts";
import type { EffectOwner } from "./effect.ts";

/** What one fixture is to be asked itself just now; nothing most of the time. */
const questionTo = (
  session: Session,
  { run, serial, spot }: EffectOwner,
  time: AskingTime,
): readonly FixtureQuestion[] => {
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
    if (index === alone) return questionTo(member.session, member, askingTime(member.session));
    return member.state === "here" ? questionTo(member.session, member, time) : [];
  });
};

const LINELESS: readonly RackStage["kind"][] = ["opening", "line-lost", "other-interface", "finished"];

const rackTime = (batch: Batch): AskingTime => {
  const { stage, slowShown } = batch;
  if (!slowShown || LINELESS.includes(stage.kind)) return "not now";
  if (stage.kind !== "moving") return "while it stands";
  const { members, index } = stage.next;
  const soaks = members.some((one) => stepAt(memberAt(batch, one).session.job, index).routine === "soak");
  return soaks ? "while it soaks" : "while it stands";
};

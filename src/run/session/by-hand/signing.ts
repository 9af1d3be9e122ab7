import { roleTrouble } from "../../../data/shop/shop.ts";
import { andThen, stay } from "../../machine/running.ts";
import { type Change, write } from "../change.ts";
import { end, goOn } from "../flow.ts";
import type { Stamped } from "../input.ts";
import { repeat } from "../retaking.ts";
import type { Session } from "../session.ts";
import type { TaskOf } from "./task.ts";

/**
 * Takes the answer at the end: signed when nothing blocks the release; set aside with every reason and a
 * person's own words; or left as it is.
 */
export const answerSign = (session: Session, { reasons, note }: TaskOf<"sign">, input: Stamped): Change => {
  if (input.kind === "confirm") return end(session, "finished");
  if (input.kind !== "judge" || session.person === "") return stay(session);
  const initials = session.person;
  if (
    input.result === "pass" &&
    reasons.length === 0 &&
    roleTrouble(session.job.people, "release", initials) === undefined
  )
    return andThen(end(session, "finished"), (s) => write(s, { kind: "signed-off", initials, note }));
  if (input.result !== "fail" || note === "") return stay(session);
  const words = reasons.map((reason) => reason.words);
  return andThen(end(session, "finished"), (s) => write(s, { kind: "quarantined", reasons: words, initials, note }));
};

/** Plays the movement once more, or takes it as enough. */
export const answerOnceMore = (session: Session, { index }: TaskOf<"once-more">, input: Stamped): Change => {
  if (input.kind === "confirm" || input.kind === "again") return repeat(session, index, 1);
  return input.kind === "decline" ? goOn({ ...session, enough: true }) : stay(session);
};

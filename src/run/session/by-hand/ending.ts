import { fittedOf } from "../../../data/profile/profile.ts";
import { comesAndGoes, seenIn } from "../../release/clean-passes.ts";
import { standingOf } from "../../release/standing.ts";
import type { Session } from "../session.ts";
import { historyNow, THIS_RUN } from "./holds.ts";
import type { TaskOf } from "./task.ts";

/** What is asked at the end of a check-in or a replay. Undefined where a run ends with its job sheet. */
export const endTask = (session: Session): TaskOf<"once-more"> | TaskOf<"sign"> | undefined => {
  if (session.job.ends === "with the job sheet") return undefined;
  return (session.enough ? undefined : onceMore(session)) ?? signTask(session);
};

/** A replayed step that failed now and then before, and has not been clean often enough since to call it mended. */
const onceMore = (session: Session): TaskOf<"once-more"> | undefined => {
  if (session.job.opening.replays === undefined) return undefined;
  const history = historyNow(session);
  return session.view.steps
    .flatMap((step, index): readonly TaskOf<"once-more">[] => {
      const seen = step.judged?.result === "pass" ? seenIn(history, step.fingerprint) : undefined;
      if (!seen || !comesAndGoes(seen) || seen.clean >= seen.needed) return [];
      return [{ kind: "once-more", index, clean: seen.clean, needed: seen.needed }];
    })
    .at(0);
};

/** As it would stand with this run over. */
const signTask = (session: Session): TaskOf<"sign"> => {
  const over = { run: THIS_RUN, person: session.person, body: { kind: "run-closed", how: "finished" } } as const;
  const { reasons } = standingOf([...historyNow(session), over], fittedOf(session.job.timeline.profile));
  return { kind: "sign", reasons, note: "" };
};

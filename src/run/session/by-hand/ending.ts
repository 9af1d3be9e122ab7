import { passesWanted } from "../../release/clean-passes.ts";
import { releaseStatusOf } from "../../release/release-status.ts";
import { stepFacts } from "../../release/step-facts.ts";
import type { Session } from "../session.ts";
import { historyNow, inThisRun } from "./holds.ts";
import type { TaskOf } from "./task.ts";

/** What is asked at the end of a check-in or a replay. Undefined where a run ends with its job sheet. */
export const endTask = (session: Session): TaskOf<"once-more"> | TaskOf<"sign"> | undefined => {
  if (session.job.ends === "with the job sheet") return undefined;
  return (session.enough ? undefined : onceMore(session)) ?? signTask(session);
};

/** A replayed step that failed before, and has not been clean often enough since to call it gone. */
const onceMore = (session: Session): TaskOf<"once-more"> | undefined => {
  if (session.job.opening.replays === undefined) return undefined;
  const history = historyNow(session);
  const facts = stepFacts(history);
  return session.view.steps
    .flatMap((step, index): readonly TaskOf<"once-more">[] => {
      const fact = step.judged?.result === "pass" && facts.find(({ movement }) => movement === step.fingerprint);
      const wanted = fact ? passesWanted(history, session.job.fitted, fact) : undefined;
      return wanted ? [{ kind: "once-more", index, clean: wanted.clean, needed: wanted.needed }] : [];
    })
    .at(0);
};

/** The question of the signature, with the reasons as they would be with this run over. */
const signTask = ({ episode, told, person, job }: Session): TaskOf<"sign"> => {
  const over = { kind: "run-closed", how: "finished" } as const;
  const { reasons } = releaseStatusOf([...episode, ...inThisRun([...told, over], person)], job.fitted);
  return { kind: "sign", reasons, note: "" };
};

import type { StepResult } from "../../domain/trade/results.ts";
import type { ReportedSymptom } from "../events/event.ts";
import { type Change, write } from "./change.ts";
import { stepAt } from "./job.ts";
import type { Played, Session } from "./session.ts";

/** Writes what came of a step, with everything about the circumstances that may matter to the fault. */
export const judgeStep = (
  session: Session,
  played: Played,
  result: StepResult,
  symptoms: readonly ReportedSymptom[],
  note: string,
  watched: "attended" | "confirmed" | "no",
): Change => {
  const { job, view, now, litSince, watchingSince } = session;
  const step = stepAt(job, played.index);
  return write(session, {
    kind: "step-judged",
    step: step.id,
    attempt: Math.max(1, view.steps[played.index]?.attempt ?? 1),
    result,
    symptoms: [...symptoms],
    note,
    watched,
    lit_min: minutes(Math.max(0, now - (litSince ?? now))),
    attitude: job.bench.attitude,
    on_watch_min: minutes(Math.max(0, now - watchingSince)),
    rig: { worst_late_s: Math.max(0, played.rig.worstLate), dropped: played.rig.dropped, lost: played.lost },
  });
};

const minutes = (seconds: number): number => Math.round((seconds / 60) * 100) / 100;

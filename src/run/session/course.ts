import { stepAt } from "./job.ts";
import type { Next } from "./next.ts";
import type { Session } from "./session.ts";

/** What a person changed in the course of a run, as an event. */
export const courseOf = (
  session: Session,
  next: Next,
  what: "away" | "back-again" | "went-on" | "resumed" | "gone-back",
) =>
  ({
    kind: "course-changed",
    step: stepAt(session.job, next.index).id,
    attempt: Math.max(1, session.view.steps[next.index]?.attempt ?? 1),
    frame: next.frame,
    what,
    detail: "",
  }) as const;

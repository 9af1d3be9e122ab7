import type { BodyOf } from "../events/event.ts";
import { stepAt } from "./job.ts";
import type { Next } from "./next.ts";
import type { Session } from "./session.ts";

/**
 * What a person or the world changed in the course of a run, as an event. `index` is the place of the step it happened in,
 * from 0, and `frame` the frame at which it did. `detail` is in words, "" where there is nothing more to say.
 */
export const courseOf = (
  { job, view }: Session,
  { index, frame }: Pick<Next, "index" | "frame">,
  what: BodyOf<"course-changed">["what"],
  detail = "",
): BodyOf<"course-changed"> => ({
  kind: "course-changed",
  step: stepAt(job, index).id,
  attempt: Math.max(1, view.steps[index]?.attempt ?? 1),
  frame,
  what,
  detail,
});

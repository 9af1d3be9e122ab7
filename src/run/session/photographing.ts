import type { BodyOf } from "../events/event.ts";
import { andThen, stay } from "../machine/running.ts";
import { type Change, write } from "./change.ts";
import { stepAt } from "./job.ts";
import type { Session } from "./session.ts";

/** Keeps a photo: an event says what it shows, and an inspection also names it. */
export const photographed = (session: Session, file: string): Change =>
  andThen(write(session, { kind: "photo-taken", file, of: whatIsOpen(session) }), (after) => {
    const { stage } = after;
    if (stage.kind !== "by-hand" || stage.task.kind !== "look") return stay(after);
    return stay({ ...after, stage: { ...stage, task: { ...stage.task, photo: file } } });
  });

const whatIsOpen = ({ stage, job, view }: Session): BodyOf<"photo-taken">["of"] => {
  if (stage.kind === "asking") {
    const { id } = stepAt(job, stage.index);
    return { what: "step", step: id, attempt: Math.max(1, view.steps[stage.index]?.attempt ?? 1) };
  }
  if (stage.kind !== "by-hand") return { what: "fixture" };
  const { task } = stage;
  if (task.kind === "look") return { what: "look", inspection: task.inspection };
  if (task.kind === "clean") return { what: "cleaning", cleaning: task.cleaning };
  if (task.kind === "fault") return { what: "fault" };
  if (task.kind !== "mend") return { what: "fixture" };
  return task.mended === "something-else" ? { what: "repair" } : { what: "repair", fault: task.mended };
};

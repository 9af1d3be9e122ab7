import { andThen, stay, withEffects } from "../../machine/running.ts";
import { type Change, write } from "../change.ts";
import { askForDiagnosis, DIAGNOSIS_FIRST } from "../diagnosing.ts";
import { goOn } from "../flow.ts";
import type { Stamped } from "../input.ts";
import type { Session } from "../session.ts";
import { faultTask } from "./due.ts";
import { at, typedInitials, typedNumber, typedText } from "./entry.ts";
import type { TaskOf } from "./task.ts";

/** Asks what was found; where that depends on the diagnosis, after it. */
export const askFault = (session: Session): Change => {
  const task = faultTask(session);
  return task === DIAGNOSIS_FIRST ? askForDiagnosis(session, { kind: "name-fault" }) : at(session, task);
};

/**
 * Takes what was found: a fault, something else in words, or nothing more. One after the other until nothing more is said.
 */
export const answerFault = (session: Session, { note }: TaskOf<"fault">, input: Stamped): Change => {
  if (input.kind !== "name-fault") return stay(session);
  if (input.fault === "nothing") return nothingMore(session);
  if (input.fault === "something-else" && note === "") return stay(session);
  const body =
    input.fault === "something-else"
      ? ({ kind: "found", what: "something-else", note } as const)
      : ({ kind: "found", what: "fault", fault: input.fault, note } as const);
  return andThen(write(session, body), (s) =>
    at(s, {
      kind: "mend",
      mended: body.what === "fault" ? body.fault : "something-else",
      part: "",
      minutes: undefined,
      initials: s.person,
      note,
    }),
  );
};

/** "No fault found" is only said when nothing was found before. */
const nothingMore = (session: Session): Change => {
  const said =
    session.view.found.length > 0 ? stay(session) : write(session, { kind: "found", what: "nothing", note: "" });
  return andThen(said, (s) => goOn({ ...s, named: s.told.length }));
};

/** Takes how it was repaired, with part, minutes and initials, or that it is left as it is for now. */
export const answerMend = (session: Session, task: TaskOf<"mend">, input: Stamped): Change => {
  if (input.kind === "filled") return at(session, { ...task, ...entryOf(input) });
  if (input.kind === "decline") return askFault(session);
  if (input.kind !== "confirm" || task.initials === "") return stay(session);
  const { mended, part, minutes, initials, note } = task;
  const work = { kind: "repaired", part, minutes: minutes ?? 0, initials, note } as const;
  const body =
    mended === "something-else"
      ? ({ ...work, what: mended } as const)
      : ({ ...work, what: "fault", fault: mended } as const);
  const asked: Change =
    mended === "something-else" ? stay(session) : withEffects(session, { kind: "mended", fault: mended });
  return andThen(asked, (m) => andThen(write(m, body), askFault));
};

const entryOf = ({ what, text }: Extract<Stamped, { kind: "filled" }>) => {
  if (what === "part") return { part: typedText(text) };
  if (what === "minutes") return { minutes: typedNumber(text) };
  return what === "initials" ? { initials: typedInitials(text) } : {};
};

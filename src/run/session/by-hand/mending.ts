import { DIRT_IDS, type DirtId } from "../../../domain/trade/cleanings.ts";
import type { Stamped } from "../../machine/input.ts";
import { andThen, stay, withEffects } from "../../machine/running.ts";
import { at, type Change, write } from "../change.ts";
import { askForDiagnosis, DIAGNOSIS_FIRST } from "../diagnosing.ts";
import { goOn } from "../flow.ts";
import type { Session } from "../session.ts";
import { isWiped } from "./cleaning.ts";
import { faultTask } from "./due.ts";
import { type TaskOf, typedInitials, typedNumber, typedText } from "./task.ts";

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

/** Takes the answer how dirty the fixture is: the first level has the digit 1. */
export const answerDirt = (session: Session, input: Stamped): Change => {
  const change = sayDirt(session, input);
  return change ? andThen(change, goOn) : stay(session);
};

/**
 * Keeps how dirty the fixture is, also beside a soak, while nobody has to watch; undefined
 * for an input that says nothing of it.
 */
export const sayDirt = (session: Session, input: Stamped): Change | undefined => {
  const dirt = input.kind === "choose" ? DIRT_IDS[input.offer] : undefined;
  return dirt && write(session, { kind: "dirt-judged", dirt });
};

/**
 * Takes an answer about all that is to be cleaned: one place by itself, for what is left
 * out; then all others at once, each kept.
 */
export const answerCleans = (session: Session, task: TaskOf<"cleans">, input: Stamped): Change => {
  const { cleanings, dirt } = task;
  const chosen = input.kind === "choose" ? cleanings[input.offer] : undefined;
  if (chosen) return at(session, { kind: "clean", cleaning: chosen, dirt, note: "" });
  if (input.kind === "again") return at(session, { kind: "dirt" });
  if (input.kind !== "judge" || input.result !== "pass") return stay(session);
  const written = cleanings.reduce<Change>(
    (change, id) =>
      andThen(change, (s) =>
        write(s, { kind: "cleaned", cleaning: id, done: isWiped(s, task, id) ? "done" : "not-needed", note: "" }),
      ),
    agreedTo(session, dirt),
  );
  return andThen(written, goOn);
};

/** Keeps that it is as dirty as the last time, from the first place on that is cleaned for it in this run. */
const agreedTo = (session: Session, dirt: DirtId): Change =>
  session.view.dirt === undefined ? write(session, { kind: "dirt-judged", dirt }) : stay(session);

/** Takes the answer about one place: cleaned, or left out with a note. */
export const answerClean = (session: Session, task: TaskOf<"clean">, input: Stamped): Change => {
  const { cleaning: id, dirt, note } = task;
  if (input.kind !== "judge" || (input.result !== "pass" && input.result !== "not-asked")) return stay(session);
  const done = input.result === "pass" ? "done" : "left-out";
  return andThen(agreedTo(session, dirt), (s) =>
    andThen(write(s, { kind: "cleaned", cleaning: id, done, note }), goOn),
  );
};

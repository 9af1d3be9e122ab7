import { DIRT_IDS, type DirtId } from "../../../domain/trade/cleanings.ts";
import { andThen, stay } from "../../machine/running.ts";
import { type Change, write } from "../change.ts";
import { goOn } from "../flow.ts";
import type { Stamped } from "../input.ts";
import type { Session } from "../session.ts";
import { isWiped } from "./cleaning.ts";
import { at } from "./entry.ts";
import type { TaskOf } from "./task.ts";

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

import { roleTrouble } from "../../../data/shop/shop.ts";
import { READINGS, type ReadingId, valueTrouble } from "../../../domain/trade/readings.ts";
import type { BodyOf } from "../../events/event.ts";
import type { Stamped } from "../../machine/input.ts";
import { andThen, stay, withEffects } from "../../machine/running.ts";
import { at, type Change, write } from "../change.ts";
import { askForDiagnosis, DIAGNOSIS_FIRST } from "../diagnosing.ts";
import { end, goOn, towards } from "../flow.ts";
import { repeat, takeBack } from "../retaking.ts";
import type { Session } from "../session.ts";
import { towardsSafety } from "./due.ts";
import { holdsAfter } from "./holds.ts";
import { lookAt } from "./looks.ts";
import { answerClean, answerCleans, answerDirt, answerFault, answerMend, askFault } from "./mending.ts";
import { type HandTask, type TaskOf, typedInitials, typedNumber, typedText } from "./task.ts";

/** Answers to whatever is asked by hand. What was done is kept, then it goes on to what is due next. */
export const answerHand = (session: Session, task: HandTask, input: Stamped): Change => {
  if (input.kind === "note" && "note" in task) return at(session, { ...task, note: typedText(input.text) });
  if (input.kind === "undo") return takeBack(session);
  switch (task.kind) {
    case "hold-point":
      return answerHold(session, task, input);
    case "look":
      return answerLook(session, task, input);
    case "looks":
      return answerLooks(session, task, input);
    case "dirt":
      return answerDirt(session, input);
    case "cleans":
      return answerCleans(session, task, input);
    case "clean":
      return answerClean(session, task, input);
    case "reading":
      return answerReading(session, task, input);
    case "blocked":
      return answerBlocked(session, task, input);
    case "fault":
      return answerFault(session, task, input);
    case "mend":
      return answerMend(session, task, input);
    case "once-more":
      return answerOnceMore(session, task, input);
    case "sign":
      return answerSign(session, task, input);
    default:
      return task satisfies never;
  }
};

/** Confirmed with initials or not at all. Isolating takes the light, the slow start and the mains away. */
const answerHold = (session: Session, { point, step, next }: TaskOf<"hold-point">, input: Stamped): Change => {
  if (input.kind !== "confirm" || session.person === "") return stay(session);
  const body: BodyOf<"hold-confirmed"> = { kind: "hold-confirmed", point, ...(step === undefined ? {} : { step }) };
  const off = point === "isolated" || point === "unplugged";
  const held: Session = {
    ...session,
    holds: holdsAfter(session.holds, point),
    cleared: point === "area-clear" || (session.cleared && !off),
    slowShown: session.slowShown && !off,
  };
  return andThen(write(held, body), (s) =>
    andThen(off ? withEffects(s, { kind: "mains-off" }) : stay(s), (dark) => (next ? towards(dark, next) : goOn(dark))),
  );
};

const ANSWERS = { pass: "good", fail: "bad", unsure: "unsure", "not-asked": "not-asked" } as const;

const answerLook = (session: Session, task: TaskOf<"look">, input: Stamped): Change => {
  if (input.kind === "filled" && input.what === "photo") return at(session, { ...task, photo: typedText(input.text) });
  if (input.kind !== "judge") return stay(session);
  const { inspection, note, photo } = task;
  const answer = ANSWERS[input.result];
  const goesOn = answer === "good" || answer === "unsure";
  return andThen(
    write(session, { kind: "inspected", inspection, answer, note, ...(photo === "" ? {} : { photo }) }),
    (s) => goOn({ ...s, chosen: undefined, inOneGo: goesOn ? s.inOneGo : 0 }),
  );
};

/** One of them by itself, for what is not good; then all others at once, each kept. */
const answerLooks = (session: Session, { inspections }: TaskOf<"looks">, input: Stamped): Change => {
  const chosen = input.kind === "choose" ? inspections[input.offer] : undefined;
  if (chosen) return at(session, lookAt(chosen, "due"));
  if (input.kind !== "judge" || input.result !== "pass") return stay(session);
  const written = inspections.reduce<Change>(
    (change, inspection) =>
      andThen(change, (s) => write(s, { kind: "inspected", inspection, answer: "good", note: "", together: true })),
    stay(session),
  );
  return andThen(written, goOn);
};

const VERDICTS = { pass: "within", fail: "outside", "not-asked": "not-taken" } as const;

/** What only a competent person may take does not count without that person's initials, nor "in limit" with a value that cannot be. */
const answerReading = (session: Session, task: TaskOf<"reading">, input: Stamped): Change => {
  if (input.kind === "filled" && input.what === "initials")
    return at(session, { ...task, initials: typedInitials(input.text) });
  if (input.kind === "filled" && input.what === "value")
    return at(session, { ...task, value: typedNumber(input.text) });
  if (input.kind !== "judge" || input.result === "unsure") return stay(session);
  const verdict = VERDICTS[input.result];
  const { reading, step, value, note } = task;
  const { unit } = READINGS[reading];
  const common = { kind: "reading-taken", ...(step === undefined ? {} : { step }), reading, unit, note } as const;
  const after = (s: Session) => goOn({ ...s, chosen: undefined });
  if (verdict === "not-taken") return andThen(write(session, { ...common, verdict, initials: "" }), after);
  const initials = takenBy(session, task);
  if (
    initials === "" ||
    mayNotMeasure(session, reading, initials) ||
    (verdict === "within" && valueTrouble(reading, value) !== undefined)
  )
    return stay(session);
  return andThen(write(session, { ...common, ...(value === undefined ? {} : { value }), verdict, initials }), after);
};

const mayNotMeasure = ({ job }: Session, reading: ReadingId, initials: string): boolean =>
  READINGS[reading].signed === "by a competent person" && roleTrouble(job.people, "measure", initials) !== undefined;

const takenBy = ({ person }: Session, { reading, initials }: TaskOf<"reading">): string =>
  initials || (READINGS[reading].signed === "by whoever reads it" ? person : "");

/** Repaired and inspected again, or it ends locked out. Power is not offered. */
const answerBlocked = (session: Session, { dangers }: TaskOf<"blocked">, input: Stamped): Change => {
  if (input.kind === "confirm") {
    const task = towardsSafety(session, dangers[0]);
    return task === DIAGNOSIS_FIRST ? askForDiagnosis(session, { kind: "name-fault" }) : at(session, task);
  }
  if (input.kind === "again") return askFault(session);
  return input.kind === "decline" ? end(session, "stopped") : stay(session);
};

/**
 * Takes the answer at the end: signed when nothing blocks the release; set aside with every reason and a
 * person's own words; or left as it is.
 */
const answerSign = (session: Session, { reasons, note }: TaskOf<"sign">, input: Stamped): Change => {
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
const answerOnceMore = (session: Session, { index }: TaskOf<"once-more">, input: Stamped): Change => {
  if (input.kind === "confirm" || input.kind === "again") return repeat(session, index, 1);
  return input.kind === "decline" ? goOn({ ...session, enough: true }) : stay(session);
};

import { holdPointWords } from "../../domain/trade/hold-points.ts";
import { type GuardedId, guardedBy } from "../../run/batch/guarded.ts";
import type { PhoneField } from "../../run/phone/message.ts";
import type { HandTask } from "../../run/session/by-hand/task.ts";
import type { Session } from "../../run/session/session.ts";
import { type Choice, choicesAt } from "../choices.ts";
import type { Desk } from "../desk.ts";
import type { KeyPlan } from "../key-plan.ts";

/** What can be touched on the phone's page of one fixture: answers, each with the keys that would give it, and what can be written down. */
export const phoneAnswers = (session: Session, desk: Desk, plan: KeyPlan): readonly Choice[] => [
  ...choicesAt(session, desk, plan),
  ...moreAnswers(session, plan),
];

/** Where the three buttons of a keyboard have no list: those pages have letters of their own there. */
const moreAnswers = ({ stage, person }: Session, plan: KeyPlan): readonly Choice[] => {
  if (stage.kind === "at-spot") return TO_AND_FRO;
  if (stage.kind !== "by-hand") return [];
  return handAnswers(stage.task, person, plan);
};

const TO_AND_FRO: readonly Choice[] = [
  { words: "a little towards the low end", keys: ["left"] },
  { words: "a little towards the high end", keys: ["right"] },
  { words: "faster", keys: ["up"] },
  { words: "slower", keys: ["down"] },
];

const handAnswers = (task: HandTask, person: string, plan: KeyPlan): readonly Choice[] => {
  const { good, failed, absent, undo } = plan.letters;
  switch (task.kind) {
    case "blocked":
      return [
        {
          words: task.dangers[0].wants === "repair" ? "it is repaired: say what was done" : "inspect it again",
          keys: ["enter"],
        },
        { words: "end here, locked out", keys: [absent] },
        { words: "undo the answer before", keys: [undo] },
      ];
    case "once-more":
      return [{ words: "enough for now", keys: [absent] }];
    case "sign":
      return [
        ...(task.reasons.length === 0 && person !== ""
          ? [{ words: `I sign it off, ready for use (${person})`, keys: [good] }]
          : []),
        ...(task.note === "" ? [] : [{ words: "hold it back, for the reason in the note", keys: [failed] }]),
        { words: "do not sign now", keys: ["enter"] },
      ];
    default:
      return [];
  }
};

/** The words of the answer that a guarded page wants, with the fixture's name in it; empty on any other page. */
export const guardedWords = ({ stage, job, person }: Session): string => {
  const guarded = guardedBy(stage);
  if (guarded === undefined || (stage.kind === "by-hand" && person === "")) return "";
  return guardedAnswer(guarded, job.opening.fixture.serial);
};

/**
 * The words of the answer to a guarded page, with the fixture's name: "Hold: all of this is confirmed, MH-0231 may move".
 */
export const guardedAnswer = (guarded: GuardedId, fixture: string): string => {
  switch (guarded) {
    case "before-moving":
      return `Hold: all of this is confirmed, ${fixture} may move`;
    case "mains-on":
      return `Hold when the mains goes on: all of this is confirmed, ${fixture} moves by itself`;
    case "go-on":
      return `Hold: I am here, continue with ${fixture}`;
    case "line-back":
      return `Hold: the area is clear, continue with ${fixture}`;
    case "other-interface":
      return `Hold: this interface leads to ${fixture}, it may move`;
    case "set-right":
      return `Hold: put right, ${fixture} may move`;
    case "play-again":
      return `Hold: play it again, ${fixture} may move`;
    case "one-by-one":
      return `Hold: go on one by one, first ${fixture}`;
    case "own-address":
      return `Hold: set at the panel, ${fixture} may move`;
    default:
      return `Hold: ${holdPointWords(guarded)} (${fixture})`;
  }
};

/** What can be written, measured or photographed here. */
export const fieldsOf = (session: Session): readonly PhoneField[] => {
  const { stage } = session;
  if (stage.kind === "asking")
    return [field("note", "A note", "letters", stage.note), photo("A photo of what was seen"), ...initials(session)];
  if (stage.kind === "holding" || stage.kind === "paused") return initials(session);
  if (stage.kind !== "by-hand") return [];
  return [...handFields(stage.task), ...initials(session)];
};

const field = (what: string, words: string, by: PhoneField["by"], text: string): PhoneField => ({
  what,
  words,
  by,
  text,
});
const photo = (words: string): PhoneField => field("photo", words, "photo", "");
const initials = ({ person }: Session): readonly PhoneField[] =>
  person === "" ? [field("person", "Your initials, for the record", "letters", "")] : [];

const handFields = (task: HandTask): readonly PhoneField[] => {
  switch (task.kind) {
    case "look":
      return [photo("A photo of it"), field("note", "A note", "letters", task.note)];
    case "clean":
      return [photo("A photo of it"), field("note", "A note", "letters", task.note)];
    case "reading":
      return [
        field("value", "The value", "digits", task.value === undefined ? "" : String(task.value)),
        field("initials", "Initials of who measured", "letters", task.initials),
        field("note", "A note", "letters", task.note),
      ];
    case "fault":
      return [field("note", "What it was, in your words", "letters", task.note), photo("A photo of the fault")];
    case "mend":
      return [
        field("part", "Part used", "letters", task.part),
        field("minutes", "Minutes it took", "digits", task.minutes === undefined ? "" : String(task.minutes)),
        field("initials", "Initials of who did it", "letters", task.initials),
        field("note", "A note", "letters", task.note),
        photo("A photo of the repair"),
      ];
    case "sign":
      return [field("note", "Why it is held back", "letters", task.note)];
    default:
      return [];
  }
};

import { holdPointWords } from "../../domain/trade/hold-points.ts";
import { type Batch, lookedAtAlone, memberAt } from "../../run/batch/batch.ts";
import { type GuardedId, guardedBy } from "../../run/batch/guarded.ts";
import type { PhoneField } from "../../run/phone/message.ts";
import type { HandTask } from "../../run/session/by-hand/task.ts";
import type { Stage } from "../../run/session/session.ts";
import { choicesAt, fixtureName } from "../choices.ts";
import { waysToFixtures } from "../fixture-keys.ts";
import { stateOf } from "../fixture-rows.ts";
import type { KeyPlan } from "../key-plan.ts";
import { type Desk, type Sight, stageIn } from "../sight.ts";
import type { Choice } from "../view.ts";

/** What can be touched on the phone's page: answers, each with the keys that would give it, and what can be written down. */
export const phoneAnswers = (batch: Batch, desk: Desk, plan: KeyPlan): readonly Choice[] => {
  const alone = lookedAtAlone(batch)?.session;
  if (alone) return [...choicesAt(batch, desk, plan), ...moreAnswers(alone.stage, alone.person, plan)];
  return answersOfAll(batch, desk, plan);
};

/** Where the three buttons of a keyboard have no list: those pages have letters of their own there. */
const moreAnswers = (stage: Stage, person: string, plan: KeyPlan): readonly Choice[] => {
  if (stage.kind === "at-spot") return TO_AND_FRO;
  return stage.kind === "by-hand" ? handAnswers(stage.task, person, plan) : [];
};

const TO_AND_FRO: readonly Choice[] = [
  { words: "a little towards the low end", keys: ["left"] },
  { words: "a little towards the high end", keys: ["right"] },
  { words: "faster", keys: ["up"] },
  { words: "slower", keys: ["down"] },
];

const handAnswers = (task: HandTask, person: string, plan: KeyPlan): readonly Choice[] => {
  const { good, failed, absent } = plan.letters;
  switch (task.kind) {
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

/** Fixtures are touched by their names, also where a keyboard has their letters and no list. */
const answersOfAll = (batch: Batch, desk: Desk, plan: KeyPlan): readonly Choice[] => {
  const { stage } = batch;
  const fixtures = () =>
    [...waysToFixtures(batch, desk, plan)].map(([index, keys]) => ({
      words: `${fixtureName(batch, index)}: ${stateOf(batch, index)}`,
      keys,
    }));
  switch (stage.kind) {
    case "moving":
      return [...fixtures(), { words: "that was another one: undo", keys: [plan.letters.undo] }];
    case "which":
      return [
        ...fixtures(),
        { words: stage.named.length === 0 ? "none of them" : "that is all, continue", keys: ["enter"] },
      ];
    case "confirming":
      return choicesAt(batch, desk, plan);
    case "paused":
      return desk.picked === undefined
        ? fixtures()
        : [
            { words: `${fixtureName(batch, desk.picked)} is removed`, keys: [plan.press[0] ?? ""] },
            { words: "neither", keys: ["escape"] },
          ];
    case "own-address":
      return [{ words: "I unplugged the data of all others instead", keys: [plan.again[0] ?? ""] }];
    default:
      return [];
  }
};

/** The words of the answer that a guarded page wants, with the fixture's name in it; empty on any other page. */
export const guardedWords = (batch: Batch): string => {
  const stage = stageIn(batch);
  const guarded = guardedBy(stage);
  if (guarded === undefined || (stage.kind === "by-hand" && batch.person === "")) return "";
  return guardedAnswer(guarded, guardedOf(batch));
};

/** Whom a guarded page would let move. */
const guardedOf = (batch: Batch): string => {
  const { stage } = batch;
  if (stage.kind === "alone") return memberAt(batch, stage.member).serial;
  if ("next" in stage) return stage.next.members.map((index) => memberAt(batch, index).serial).join(", ");
  if (stage.kind === "own-address") return memberAt(batch, stage.member).serial;
  const [first] = stage.kind === "between" ? stage.odd : [];
  return first === undefined ? batch.plan.title : memberAt(batch, first).serial;
};

/**
 * The words of the answer to a guarded page, with the fixture's name: "Hold: all of this is confirmed, MH-0231 may move".
 */
const guardedAnswer = (guarded: GuardedId, fixture: string): string => {
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
export const fieldsOf = ({ batch, desk }: Sight): readonly PhoneField[] => {
  const stage = stageIn(batch);
  switch (stage.kind) {
    case "asking":
      return [field("note", "A note", "letters", stage.note), photo("A photo of what was seen"), ...initials(batch)];
    case "holding":
      return initials(batch);
    case "paused":
      return [...(desk.picked === undefined ? [] : [SWAPPED]), ...initials(batch)];
    case "by-hand":
      return [...handFields(stage.task), ...initials(batch)];
    default:
      return [];
  }
};

const field = (what: string, words: string, by: PhoneField["by"], text: string): PhoneField => ({
  what,
  words,
  by,
  text,
});
const SWAPPED = {
  what: "serial",
  words: "Serial number of the one that stands there now",
  by: "scan",
  text: "",
} as const;
const photo = (words: string): PhoneField => field("photo", words, "photo", "");
const initials = ({ person }: Batch): readonly PhoneField[] =>
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

import { recordFrom } from "../../../domain/keys.ts";
import { good } from "../../../domain/problem/problem.ts";
import type { FunctionId } from "../../../domain/trade/functions.ts";
import { LIGHT_SOURCE_IDS } from "../../../domain/trade/mechanisms.ts";
import type { ProfileFile } from "../schema.ts";
import type { Remarks } from "../write.ts";
import {
  type Asked,
  type Asking,
  anyWords,
  ask,
  type Draft,
  EMPTY_DRAFT,
  not,
  numberFrom,
  oneOf,
  orGuess,
  type Question,
  wholeFrom,
  withFine,
  withFunction,
} from "./ask.ts";
import { askBands, askCommands } from "./bands.ts";
import { askDegrees, askPercent, askWheel, type ToldFunction } from "./movement.ts";
import { SHAPES, slotQuestion } from "./slot.ts";

/** A profile as it was told, with what is to be said in it to people. */
interface Charted {
  readonly file: ProfileFile;
  readonly remarks: Omit<Remarks, "schema">;
}

/** Holds the whole conversation: first what the fixture is, then the chart slot by slot, as it stands in the manual. */
function* chart(usualName: string | undefined): Asking<Charted> {
  let draft = yield* askFrame(usualName);
  const slots = draft.frame.slots ?? 0;
  for (let slot = 1; slot <= slots; slot++) {
    const use = yield* ask(draft, slotQuestion(draft, slot));
    if (use.kind === "function") draft = yield* askFunction(draft, use.id, slot);
    else draft = use.kind === "fine" ? withFine(draft, use.id, slot) : yield* askOther(draft, slot);
  }
  return charted(draft);
}

function* askFunction(draft: Draft, id: FunctionId, slot: number): Asking<Draft> {
  const told = yield* askShape(draft, id, slot);
  if (told === undefined) return yield* askOther(draft, slot);
  const guessed = told.times === "guessed" ? [...draft.guessed, id] : draft.guessed;
  return { ...withFunction(draft, id, told.spec), guessed };
}

function* askShape(draft: Draft, id: FunctionId, slot: number): Asking<ToldFunction | undefined> {
  const shape = SHAPES[id];
  switch (shape.kind) {
    case "degrees":
      return yield* askDegrees(draft, id, slot, shape);
    case "percent":
      return yield* askPercent(draft, id, slot, shape);
    case "emitter":
      return { spec: { slots: [slot], from_pct: 0, to_pct: 100, full_travel_s: 0.05 }, times: "said" };
    case "bands":
      return { spec: yield* askBands(draft, id, slot, shape), times: "said" };
    case "wheel":
      return yield* askWheel(draft, id, slot, shape);
    case "commands": {
      const spec = yield* askCommands(draft, id, slot, shape);
      return spec && { spec, times: "said" };
    }
    default:
      return shape satisfies never;
  }
}

/** Never moved: some want another level than 0, or the fixture does something that nobody asked for. */
function* askOther(draft: Draft, slot: number): Asking<Draft> {
  const what = yield* ask(draft, {
    words: `Slot ${slot}: what does the chart call it?`,
    guess: "not used",
    read: orGuess("not used", anyWords),
  });
  const level = yield* ask(draft, LEVEL);
  return { ...draft, others: [...draft.others, { slot, what, level }] };
}

const LEVEL: Question<number> = {
  words: "Which level does it want all the time?",
  guess: "0",
  read: orGuess("0", wholeFrom(0, 255)),
};

const charted = ({ frame, functions, guessed, others }: Draft): Charted => {
  const has = (id: FunctionId) => functions.some(([known]) => known === id);
  const rest = { ...(has("Shutter1") ? { Shutter1: "closed" as const } : {}), ...(has("Dimmer") ? { Dimmer: 0 } : {}) };
  const file = {
    ...(frame as Omit<ProfileFile, "functions" | "rest" | "held" | "allow">),
    functions: recordFrom(functions),
    rest,
    ...(others.length === 0
      ? {}
      : { held: others.map(({ slot, what, level }) => ({ slots: [slot], at: level, is: what })) }),
  };
  return { file, remarks: { about: ABOUT, functions: Object.fromEntries(guessed.map((id) => [id, GUESSED])) } };
};

const ABOUT = ["Typed from the chart in the manual. Verify it on the fixture: limber profile verify FILE --output ..."];
const GUESSED = "time guessed, not measured";

/** How far a conversation has come: its answers say it all, so that going back is leaving out the last. */
export type Interview =
  | { readonly kind: "asking"; readonly answers: readonly string[]; readonly asked: Asked }
  | { readonly kind: "told"; readonly answers: readonly string[]; readonly charted: Charted };

/** Plays the conversation from its beginning with these answers, up to the question that comes next or to its end. */
export const interview = (usualName: string | undefined, answers: readonly string[] = []): Interview => {
  const conversation = chart(usualName);
  const end = answers.reduce((_, text) => conversation.next(text), conversation.next());
  return end.done ? { kind: "told", answers, charted: end.value } : { kind: "asking", answers, asked: end.value };
};

/** What comes of one line typed: a step on, a step back, or words about why it stays where it is. */
type HeardLine =
  | { readonly kind: "on"; readonly interview: Interview }
  | { readonly kind: "not-understood"; readonly words: string };

/**
 * Takes one typed line: "back" takes the last answer away, a line that the question can read is its answer, and any other
 * line is told in words what is wrong with it and changes nothing.
 */
export const heardLine = (usualName: string | undefined, before: Interview, line: string): HeardLine => {
  const text = line.trim();
  if (text === "back") return { kind: "on", interview: interview(usualName, before.answers.slice(0, -1)) };
  if (before.kind === "told") return { kind: "on", interview: before };
  const read = before.asked.question.read(text);
  if (read.ok) return { kind: "on", interview: interview(usualName, [...before.answers, text]) };
  return {
    kind: "not-understood",
    words: read.problems.map(({ message, hint }) => (hint ? `${message} (${hint})` : message)).join("; "),
  };
};

/**
 * Asks what the fixture is called, in which mode, how many slots that takes, where its light comes
 * from, and how long it takes to start.
 */
function* askFrame(usualName: string | undefined): Asking<Draft> {
  let draft = EMPTY_DRAFT;
  const put = (more: Draft["frame"]): void => {
    draft = { ...draft, frame: { ...draft.frame, ...more } };
  };
  put({ profile: yield* ask(draft, nameQuestion(usualName)) });
  const fixture = yield* ask(draft, FIXTURE);
  put({ fixture });
  const mode = yield* ask(draft, MODE);
  const slots = yield* ask(draft, SLOTS);
  put({ title: `${fixture}, ${mode}, ${slots} slots`, slots });
  put({ power_up_s: yield* ask(draft, POWER_UP) });
  put({ lamp: yield* askLamp(draft) });
  return draft;
}

const nameQuestion = (guess: string | undefined): Question<string> => ({
  words: "A name for this profile, and for its file: small letters, digits and hyphens?",
  guess,
  read: orGuess(guess, (text) =>
    /^[a-z0-9][a-z0-9-]*$/.test(text) ? good(text) : not(`"${text}" is not a name`, "such as wash-extended"),
  ),
});

const words = (question: string, guess: string | undefined): Question<string> => ({
  words: question,
  guess,
  read: orGuess(guess, (text) => (anyWords(text).ok && text.trim() !== "" ? anyWords(text) : not("a word or two"))),
});
const FIXTURE = words("What kind of fixture is it, in your own words, the same for all its modes?", undefined);
const MODE = words("Which mode is this, as the fixture's own menu calls it?", "basic mode");

const SLOTS: Question<number> = {
  words: "How many slots does this mode take?",
  guess: undefined,
  read: orGuess(undefined, wholeFrom(1, 512)),
};

const POWER_UP: Question<number> = {
  words: "Seconds from the mains on until it has found its home?",
  guess: "45",
  read: orGuess("45", numberFrom(1, 600)),
};

/** Starter values, judgement; the lamp's maker knows better. */
const LAMP = { strike_s: 6, warm_s: 150, restrike_s: 480 } as const;

function* askLamp(draft: Draft): Asking<ProfileFile["lamp"]> {
  const kind = yield* ask(draft, {
    words: "Where does its light come from: a discharge lamp, LEDs, a laser, or an ultraviolet source?",
    guess: "led",
    read: orGuess("led", oneOf(LIGHT_SOURCE_IDS)),
  });
  if (kind !== "discharge") return { kind, strike_s: 0, warm_s: 0, restrike_s: 0 };
  const seconds = (what: string, usual: number): Question<number> => ({
    words: `Seconds the lamp takes to ${what}?`,
    guess: String(usual),
    read: orGuess(String(usual), numberFrom(0, 3600)),
  });
  const strike_s = yield* ask(draft, seconds("strike", LAMP.strike_s));
  const warm_s = yield* ask(draft, seconds("warm up, until its colour is steady", LAMP.warm_s));
  const restrike_s = yield* ask(draft, seconds("cool, before it strikes again", LAMP.restrike_s));
  return { kind, strike_s, warm_s, restrike_s };
}

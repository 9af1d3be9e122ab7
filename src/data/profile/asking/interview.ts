import { recordFrom } from "../../../domain/keys.ts";
import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { ProfileFile } from "../schema.ts";
import type { Remarks } from "../write.ts";
import { type Asked, type Asking, anyWords, ask, orGuess, type Question, wholeFrom } from "./ask.ts";
import { askBands, askCommands } from "./bands.ts";
import { type Draft, withFine, withFunction } from "./draft.ts";
import { askFrame } from "./frame.ts";
import { SHAPES } from "./shapes.ts";
import { slotQuestion } from "./slot.ts";
import { askDegrees, askPercent, type ToldFunction } from "./travel.ts";
import { askWheel } from "./wheel.ts";

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

import { recordFrom } from "../../../domain/keys.ts";
import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { ProfileFile } from "../schema.ts";
import type { Remarks } from "../write.ts";
import { type Asking, ask, type Question } from "./ask.ts";
import { askBands } from "./bands.ts";
import { askCommands } from "./commands.ts";
import { type Draft, withFine, withFunction } from "./draft.ts";
import { askFrame } from "./frame.ts";
import { anyWords, orGuess, wholeFrom } from "./reading.ts";
import { SHAPES } from "./shapes.ts";
import { slotQuestion } from "./slot.ts";
import { askDegrees, askPercent, type ToldFunction } from "./travel.ts";
import { askWheel } from "./wheel.ts";

/** A profile as it was told, with what is to be said in it to people. */
export interface Charted {
  readonly file: ProfileFile;
  readonly remarks: Omit<Remarks, "schema">;
}

/** Holds the whole conversation: first what the fixture is, then the chart slot by slot, as it stands in the manual. */
export function* chart(usualName: string | undefined): Asking<Charted> {
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

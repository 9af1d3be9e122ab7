import { good, hintFor, type Result } from "../../../domain/problem/problem.ts";
import { FUNCTION_IDS, type FunctionId, functionWords } from "../../../domain/trade/functions.ts";
import type { WheelKind } from "../../../domain/trade/mechanisms.ts";
import type { Seconds } from "../../../domain/units.ts";
import { type Draft, not, orGuess, type Question, specIn } from "./ask.ts";

/** What a function usually looks like in a chart, and usual numbers for it (starter values, judgement). */
export type Shape =
  | {
      readonly kind: "degrees";
      readonly ends: readonly [number, number];
      readonly time: Seconds;
      readonly lag: Seconds | undefined;
    }
  | { readonly kind: "percent"; readonly ends: readonly [number, number]; readonly time: Seconds }
  /** Shines at once: nothing travels. */
  | { readonly kind: "emitter" }
  | { readonly kind: "bands"; readonly bands: readonly string[]; readonly move: Seconds | undefined }
  | { readonly kind: "wheel"; readonly wheel: WheelKind; readonly step: Seconds }
  | {
      readonly kind: "commands";
      readonly commands: readonly ("reset" | "lamp-on" | "lamp-off" | "fans-low" | "fans-full")[];
    };

const percent = (time: Seconds): Shape => ({ kind: "percent", ends: [0, 100], time });
const TURN: Shape = {
  kind: "bands",
  bands: ["127 index 0 360", "189 turn 60 1", "193 stop", "255 turn -1 -60"],
  move: undefined,
};
const inOut = (move: Seconds): Shape => ({ kind: "bands", bands: ["63 out", "255 in"], move });
const EMITTER: Shape = { kind: "emitter" };

export const SHAPES: Readonly<Record<FunctionId, Shape>> = {
  Pan: { kind: "degrees", ends: [-270, 270], time: 2.6, lag: 0.3 },
  Tilt: { kind: "degrees", ends: [-135, 135], time: 1.6, lag: 0.3 },
  Dimmer: percent(0.3),
  Shutter1: {
    kind: "bands",
    bands: ["31 closed", "63 open", "200 strobe 0.5 15", "255 open"],
    move: 0.1,
  },
  Color1: { kind: "wheel", wheel: "colour", step: 0.12 },
  Color2: { kind: "wheel", wheel: "colour", step: 0.12 },
  ColorSub_C: percent(0.4),
  ColorSub_M: percent(0.4),
  ColorSub_Y: percent(0.4),
  CTO: percent(0.4),
  ColorAdd_R: EMITTER,
  ColorAdd_G: EMITTER,
  ColorAdd_B: EMITTER,
  ColorAdd_W: EMITTER,
  Gobo1: { kind: "wheel", wheel: "rotating", step: 0.15 },
  Gobo1Pos: TURN,
  Gobo2: { kind: "wheel", wheel: "fixed", step: 0.15 },
  Gobo2Pos: TURN,
  AnimationWheel1: { kind: "wheel", wheel: "effect", step: 0.3 },
  Prism1: inOut(0.6),
  Prism1Pos: TURN,
  Frost1: percent(0.6),
  Iris: { kind: "percent", ends: [100, 5], time: 0.4 },
  Focus1: percent(1.2),
  Zoom: { kind: "degrees", ends: [8, 42], time: 1.2, lag: undefined },
  Blade1A: percent(0.4),
  Blade1B: percent(0.4),
  Blade2A: percent(0.4),
  Blade2B: percent(0.4),
  Blade3A: percent(0.4),
  Blade3B: percent(0.4),
  Blade4A: percent(0.4),
  Blade4B: percent(0.4),
  ShaperRot: { kind: "degrees", ends: [-60, 60], time: 0.9, lag: undefined },
  Control1: { kind: "commands", commands: ["reset", "lamp-on"] },
  LampControl: { kind: "commands", commands: ["lamp-on", "lamp-off"] },
  Fans: { kind: "commands", commands: ["fans-low", "fans-full"] },
};

/** "Slot 3: what does it do?", with what usually comes there as the guess. */
export const slotQuestion = (draft: Draft, slot: number): Question<SlotUse> => {
  const guess = useInWords(usualAt(draft, slot));
  return {
    words: `Slot ${slot} of ${draft.frame.slots}: what does it do?`,
    guess,
    read: orGuess(guess, readUse(draft)),
  };
};

const useInWords = (use: SlotUse): string => {
  if (use.kind === "other") return "other";
  return use.kind === "fine" ? `${functionWords(use.id)} fine` : functionWords(use.id);
};

const readUse =
  (draft: Draft) =>
  (text: string): Result<SlotUse> => {
    if (/^(?:other|nothing|-)$/i.test(text)) return good({ kind: "other" });
    const fine = /^(.*?)\s*\bfine$/i.exec(text)?.[1];
    if (fine !== undefined) return fineOf(draft, fine);
    const id = functionNamed(text);
    if (id === undefined) return not(`"${text}" is not a function`, functionHint(text));
    if (specIn(draft, id)) return not(`${functionWords(id)} has its slot already`, `"${functionWords(id)} fine"?`);
    return good({ kind: "function", id });
  };

/** "fine" alone is that of the function told last. */
const fineOf = (draft: Draft, words: string): Result<SlotUse> => {
  const id = words === "" ? draft.functions.at(-1)?.[0] : functionNamed(words);
  const spec = id === undefined ? undefined : specIn(draft, id);
  if (id === undefined || !spec) return not(`nothing called "${words}" is known yet`);
  return "full_travel_s" in spec && spec.slots.length < 4
    ? good({ kind: "fine", id })
    : not(`${functionWords(id)} has no fine slot`, 'it goes by bands or positions; "other" for a slot of another kind');
};

/** What a slot is: a function begins, the fine slot of one goes on, or something that Limber does not move. */
type SlotUse =
  | { readonly kind: "function"; readonly id: FunctionId }
  | { readonly kind: "fine"; readonly id: FunctionId }
  | { readonly kind: "other" };

/** What usually comes at a slot after all that was told before (common practice, no source). */
const usualAt = (draft: Draft, slot: number): SlotUse => {
  const fine = fineDue(draft);
  if (fine !== undefined) return { kind: "fine", id: fine };
  if (slot === draft.frame.slots && controlIsDue(draft)) return { kind: "function", id: "Control1" };
  const after = draft.functions.at(-1)?.[0];
  const order = orderFor(draft);
  const next = order.slice(after === undefined ? 0 : order.indexOf(after) + 1).find((id) => free(draft, id));
  return next === undefined ? { kind: "other" } : { kind: "function", id: next };
};

/** The last slot is the control slot, once there is something to go dark with. */
const controlIsDue = (draft: Draft): boolean =>
  free(draft, "Control1") && (!free(draft, "Shutter1") || !free(draft, "Dimmer"));

/** Pan has its fine slot next to it; the others have one when the function before them had. */
const fineDue = ({ functions }: Draft): FunctionId | undefined => {
  const [id, spec] = functions.at(-1) ?? [];
  if (id === undefined || spec === undefined || spec.slots.length > 1 || !FINE.includes(id)) return undefined;
  const before = functions.findLast(([other]) => other !== id && FINE.includes(other));
  return before === undefined || before[1].slots.length > 1 ? id : undefined;
};

const FINE: readonly FunctionId[] = ["Pan", "Tilt", "Zoom", "Focus1"];

/** Either flags or emitters: whichever was begun, else what goes with the source of the light. */
const orderFor = (draft: Draft): readonly FunctionId[] => {
  const begun = draft.functions.find(([id]) => COLOURS.test(id))?.[0];
  const flags = begun === undefined ? draft.frame.lamp?.kind !== "led" : begun.startsWith("ColorSub");
  return USUAL.filter((id) => !COLOURS.test(id) || id.startsWith("ColorSub") === flags);
};

const COLOURS = /^Color(?:Sub|Add)_/;

const USUAL: readonly FunctionId[] = [
  "Pan",
  "Tilt",
  "Shutter1",
  "Dimmer",
  "ColorSub_C",
  "ColorSub_M",
  "ColorSub_Y",
  "ColorAdd_R",
  "ColorAdd_G",
  "ColorAdd_B",
  "ColorAdd_W",
  "CTO",
  "Color1",
  "Gobo1",
  "Gobo1Pos",
  "Gobo2",
  "Prism1",
  "Prism1Pos",
  "Frost1",
  "Iris",
  "Zoom",
  "Focus1",
  ...FUNCTION_IDS.filter((id) => id.startsWith("Blade")),
  "ShaperRot",
];

const free = (draft: Draft, id: FunctionId): boolean => specIn(draft, id) === undefined;

/**
 * The function that is called so, as a GDTF attribute or in the words of the trade, in any case; undefined where none is.
 */
export const functionNamed = (text: string): FunctionId | undefined => {
  const wanted = text.toLowerCase();
  return FUNCTION_IDS.find((id) => id.toLowerCase() === wanted || functionWords(id).toLowerCase() === wanted);
};

/** Says which functions may be meant by a word that names none. */
export const functionHint = (text: string): string => {
  const words = FUNCTION_IDS.map(functionWords);
  const containing = words.filter((one) => one.includes(text.toLowerCase()));
  return containing.length > 0
    ? containing.join(", ")
    : (hintFor(text, [...words, ...FUNCTION_IDS]) ??
        'the chart calls it something else: "other", or "list" for all that Limber knows');
};

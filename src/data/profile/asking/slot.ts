import { good, hintFor, type Result } from "../../../domain/problem/problem.ts";
import { FUNCTION_IDS, type FunctionId, functionWords } from "../../../domain/trade/functions.ts";
import { type Draft, not, orGuess, type Question, specIn } from "./ask.ts";

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

import { good, type Result } from "../../../domain/problem/problem.ts";
import { functionWords } from "../../../domain/trade/functions.ts";
import type { Question } from "./ask.ts";
import { type Draft, specIn } from "./draft.ts";
import { type SlotUse, usualAt } from "./follows.ts";
import { functionHint, functionNamed } from "./named.ts";
import { not, orGuess } from "./reading.ts";

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

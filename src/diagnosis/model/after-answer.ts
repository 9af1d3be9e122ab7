import type { Ranked, Ranking } from "./rank.ts";

/** Less than this is not worth a word. */
const NOTHING_TO_SPEAK_OF = 0.02;

/**
 * What the last answer did to the first place, in a sentence; where it changed nothing, why. `answer`: "the last test" or "the
 * last inspection".
 */
export function sayChange(before: Ranking, after: Ranking, answer: string): string {
  const [was, is] = [before.faults[0], after.faults[0]];
  if (!was || !is) return "";
  if (was.id !== is.id) return `After ${answer} ${is.title} comes first, before that ${was.title}.`;
  const moved = is.probability - beliefIn(was, before);
  if (Math.abs(moved) < NOTHING_TO_SPEAK_OF)
    return `${capital(answer)} changed little: ${is.title} stays first, the other likely answers would have shown the same.`;
  return moved > 0
    ? `${capital(answer)} speaks for ${is.title}, which stays first.`
    : `${capital(answer)} speaks against ${is.title}, which still stays first: no other answer explains more.`;
}

const beliefIn = ({ id }: Ranked, { faults }: Ranking): number => faults.find((one) => one.id === id)?.probability ?? 0;
const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

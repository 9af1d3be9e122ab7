import { lint } from "../../data/profile/lint/lint.ts";
import { type ReadProfile, readProfile } from "../../data/profile/parse.ts";
import { tellDoubts } from "../../domain/problem/doubt.ts";
import { tellProblems } from "../../domain/problem/tell.ts";
import { safeText } from "../../domain/problem/terminal.ts";

/** What the check says of a profile's text, as one piece. */
export const checkWords = (source: string, text: string): string => {
  const read = readProfile(source, text);
  if (!read.ok) return tellProblems(read.problems);
  const doubts = lint(read.value);
  return doubts.length === 0 ? soundWords(read.value) : `${tellDoubts(doubts)}\n\n${countWords(doubts.length)}`;
};

/** How many things the check would have looked at, in words. `count` is 1 or more. */
export const countWords = (count: number): string =>
  `${count === 1 ? "1 thing" : `${count} things`} to look at; the profile can be used. What is right as it is: allow: { rule: reason }.`;

/** Says that nothing in a profile is to be corrected. */
export const soundWords = ({ profile: { name, title, functions } }: ReadProfile): string =>
  `${safeText(name)}: nothing to correct. ${safeText(title)}, ${functions.size} functions.`;

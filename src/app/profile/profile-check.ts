import { lint } from "../../data/profile/lint/lint.ts";
import { type ReadProfile, readProfile } from "../../data/profile/parse.ts";
import { tellDoubts, tellProblems } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { load } from "../common/data.ts";
import { complain, EXIT, type ExitCode, print } from "../common/output.ts";

/** Tells of every profile named what is wrong with it, or what in it would mislead. Nothing is moved. */
export const checkProfiles = (names: readonly string[]): ExitCode => {
  const sound = names.map((name) => checkOne(name));
  return sound.every((one) => one) ? EXIT.done : EXIT.input;
};

const checkOne = (name: string): boolean => {
  const read = load(fileLibrary(), "profiles", name, readProfile);
  if (!read.ok) {
    complain(tellProblems(read.problems));
    return false;
  }
  const doubts = lint(read.value.value);
  if (doubts.length > 0) complain(`${tellDoubts(doubts)}\n\n${countWords(doubts.length)}`);
  else print(soundWords(read.value.value));
  return doubts.length === 0;
};

/** What the check says of a profile's text, as one piece. */
export const checkWords = (source: string, text: string): string => {
  const read = readProfile(source, text);
  if (!read.ok) return tellProblems(read.problems);
  const doubts = lint(read.value);
  return doubts.length === 0 ? soundWords(read.value) : `${tellDoubts(doubts)}\n\n${countWords(doubts.length)}`;
};

/** How many things the check would have looked at, in words. `count` is 1 or more. */
const countWords = (count: number): string =>
  `${count === 1 ? "1 thing" : `${count} things`} to look at; the profile can be used. What is right as it is: allow: { rule: reason }.`;

/** Says that nothing in a profile is to be corrected. */
const soundWords = ({ profile: { name, title, functions } }: ReadProfile): string =>
  `${safeText(name)}: nothing to correct. ${safeText(title)}, ${functions.size} functions.`;

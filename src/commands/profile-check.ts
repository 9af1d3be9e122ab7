import { tellDoubts } from "../problem/doubt.ts";
import { tellProblems } from "../problem/tell.ts";
import { lint } from "../profile/lint/lint.ts";
import { readProfile } from "../profile/parse.ts";
import { fileShelf } from "../shelf/files.ts";
import { load } from "./data.ts";
import { EXIT, type ExitCode } from "./exit.ts";
import { complain, print } from "./print.ts";
import { countWords, soundWords } from "./profile-words.ts";

/** Tells of every profile named what is wrong with it, or what in it would mislead. Nothing is moved. */
export const checkProfiles = (names: readonly string[]): ExitCode => {
  const sound = names.map((name) => checkOne(name));
  return sound.every((one) => one) ? EXIT.done : EXIT.input;
};

const checkOne = (name: string): boolean => {
  const read = load(fileShelf(), "profiles", name, readProfile);
  if (!read.ok) {
    complain(tellProblems(read.problems));
    return false;
  }
  const doubts = lint(read.value.value);
  if (doubts.length > 0) complain(`${tellDoubts(doubts)}\n\n${countWords(doubts.length)}`);
  else print(soundWords(read.value.value));
  return doubts.length === 0;
};

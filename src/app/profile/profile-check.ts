import { lint } from "../../data/profile/lint/lint.ts";
import { readProfile } from "../../data/profile/parse.ts";
import { tellDoubts } from "../../domain/problem/doubt.ts";
import { tellProblems } from "../../domain/problem/tell.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { load } from "../common/data.ts";
import { EXIT, type ExitCode } from "../common/exit.ts";
import { complain, print } from "../common/print.ts";
import { countWords, soundWords } from "./profile-words.ts";

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

import { type Bench, parseBench } from "../../data/bench/bench.ts";
import { parseProfile } from "../../data/profile/parse.ts";
import type { Profile } from "../../data/profile/profile.ts";
import { readSequence } from "../../data/sequence/parse.ts";
import { tellDoubts } from "../../domain/problem/doubt.ts";
import { tellProblems } from "../../domain/problem/tell.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { lintSequence } from "../../plan/lint/lint.ts";
import { load } from "../common/data.ts";
import { EXIT, type ExitCode } from "../common/exit.ts";
import { complain, print, refuse } from "../common/print.ts";

/** Tells of every sequence named what is wrong with it, or of little use; played on no fixture, worked out for all. */
export const checkSequences = (names: readonly string[], benchName: string): ExitCode => {
  const bench = load(fileLibrary(), "benches", benchName, parseBench);
  if (!bench.ok) return refuse(bench.problems);
  const profiles = everyProfile();
  const sound = names.map((name) => checkOne(name, profiles, bench.value.value));
  return sound.every((one) => one) ? EXIT.done : EXIT.input;
};

const everyProfile = (): readonly Profile[] =>
  fileLibrary()
    .names("profiles")
    .flatMap((name) => {
      const loaded = load(fileLibrary(), "profiles", name, parseProfile);
      return loaded.ok ? [loaded.value.value] : [];
    });

const checkOne = (name: string, profiles: readonly Profile[], bench: Bench): boolean => {
  const read = load(fileLibrary(), "sequences", name, readSequence);
  if (!read.ok) {
    complain(tellProblems(read.problems));
    return false;
  }
  const { sequence } = read.value.value;
  const doubts = lintSequence(read.value.value, profiles, bench);
  if (doubts.length > 0) {
    const count = doubts.length === 1 ? "1 thing" : `${doubts.length} things`;
    complain(`${tellDoubts(doubts)}\n\n${count} to look at; the sequence can be played.`);
  } else {
    const steps = `${sequence.steps.length} ${sequence.steps.length === 1 ? "step" : "steps"}`;
    print(
      `${safeText(sequence.name)}: nothing to correct. ${safeText(sequence.title)}, ${steps}, worked out for ${profiles.length} kinds of fixture.`,
    );
  }
  return doubts.length === 0;
};

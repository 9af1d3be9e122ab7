import { knownOf } from "../../diagnosis/places/known.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { type PracticeRound, practiceData, tellPractice, tellRound } from "../../reports/practice.ts";
import type { Journal } from "../../run/ports.ts";
import { typedLines } from "../../ui/typed-lines.ts";
import { EXIT, type ExitCode } from "../common/exit.ts";
import { print, refuse } from "../common/print.ts";
import { constantsIn } from "../fixture/measured.ts";
import { openHere } from "../journal/with-journal.ts";
import { type PracticeOptions, practiceRound } from "./practice-round.ts";

/** Rounds at the simulated bench with something hidden, or nothing; after each what was set, caught, missed and falsely called. */
export const practice = async (options: PracticeOptions): Promise<ExitCode> => {
  const journal = await openHere(options.journal);
  try {
    const rounds: PracticeRound[] = [];
    for (let number = 1; number <= options.rounds; number++) {
      const round = await practiceRound(options, journal, number);
      if (!round.ok) return refuse(round.problems);
      rounds.push(round.value);
      if (!options.json) print(tellRound(round.value, options.rounds));
      if (round.value.ended !== "finished" || !(await wantsAnother(options, number))) break;
    }
    const quickness = await quicknessIn(journal, rounds);
    print(
      options.json
        ? JSON.stringify({ ...practiceData(rounds), quickness }, undefined, 2)
        : tellPractice(rounds, quickness),
    );
    return EXIT.done;
  } finally {
    await journal.close();
  }
};

const wantsAnother = async ({ rounds, watcher }: PracticeOptions, played: number): Promise<boolean> => {
  if (played >= rounds || watcher !== undefined) return played < rounds;
  print("ENTER: next round. Any other key, then ENTER: stop.");
  const lines = typedLines();
  const line = await lines.next();
  lines.close();
  return line?.trim() === "";
};

/** Of whoever pressed last, with all that earlier rounds and runs have told. */
const quicknessIn = async (journal: Journal, rounds: readonly PracticeRound[]): Promise<string | undefined> => {
  const person = rounds.at(-1)?.person ?? "";
  const words = knownOf(await constantsIn(journal), person, "").words;
  return words === undefined ? undefined : safeText(words);
};

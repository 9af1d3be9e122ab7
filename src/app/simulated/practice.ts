import { knownOf } from "../../diagnosis/places/known.ts";
import type { Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { type PracticeRound, practiceData, tellPractice, tellRound } from "../../reports/practice.ts";
import type { Journal } from "../../run/ports.ts";
import { type Signals, untilTold } from "../../run/shell/signals.ts";
import { typedLines } from "../../ui/typed-lines.ts";
import { EXIT, type ExitCode } from "../common/exit.ts";
import { print, refuse } from "../common/print.ts";
import { constantsIn } from "../fixture/measured.ts";
import { openHere } from "../journal/with-journal.ts";
import { type PracticeOptions, practiceRound } from "./practice-round.ts";

/**
 * Plays rounds at the simulated bench with something hidden, or nothing; after each it says what was
 * hidden, caught, missed and falsely called.
 */
export const practice = async (options: PracticeOptions): Promise<ExitCode> => {
  const journal = await openHere(options.journal);
  try {
    const rounds: PracticeRound[] = [];
    for (;;) {
      const round = await untilTold((signals) => playedAndTold(options, journal, rounds, signals));
      if (!round.ok) return refuse(round.problems);
      if (isLast(options, round.value)) return EXIT.done;
      if (await wantsAnother(options)) continue;
      await tellAll(options, journal, rounds);
      return EXIT.done;
    }
  } finally {
    await journal.close();
  }
};

/** One more round, added to `rounds`; after the last one also what all of them say. */
const playedAndTold = async (
  options: PracticeOptions,
  journal: Journal,
  rounds: PracticeRound[],
  signals: Signals,
): Promise<Result<PracticeRound>> => {
  const round = await practiceRound(options, journal, rounds.length + 1, signals);
  if (!round.ok) return round;
  rounds.push(round.value);
  if (!options.json) print(tellRound(round.value, options.rounds));
  if (isLast(options, round.value)) await tellAll(options, journal, rounds);
  return round;
};

const isLast = ({ rounds }: PracticeOptions, { ended, number }: PracticeRound): boolean =>
  ended !== "finished" || number >= rounds;

const tellAll = async ({ json }: PracticeOptions, journal: Journal, rounds: readonly PracticeRound[]) => {
  const quickness = await quicknessIn(journal, rounds);
  print(json ? JSON.stringify({ ...practiceData(rounds), quickness }, undefined, 2) : tellPractice(rounds, quickness));
};

const wantsAnother = async ({ watcher }: PracticeOptions): Promise<boolean> => {
  if (watcher !== undefined) return true;
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

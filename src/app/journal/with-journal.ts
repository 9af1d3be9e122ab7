import { existsSync } from "node:fs";
import { problem } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { type FileJournal, openJournal } from "../../io/store/journal.ts";
import type { ToldProgress } from "../../io/store/remembering.ts";
import { settingsFile } from "../../io/systems.ts";
import { findingInWords } from "../../run/events/journal-finding.ts";
import { complain, type ExitCode, refuse } from "../common/output.ts";

/** Works on a journal that is there already: a misspelt name must not make an empty one. */
export const withJournal = async (
  file: string,
  work: (journal: FileJournal) => Promise<ExitCode>,
): Promise<ExitCode> => {
  if (!existsSync(file)) return refuse([problem(file, "there is no journal here", "the first run makes one")]);
  const journal = await openHere(file);
  try {
    return await work(journal);
  } finally {
    await journal.close();
  }
};

/** The journal, opened; what is wrong with it though it can be read is said at once. Rejects with JournalError. */
export const openHere = async (file: string): Promise<FileJournal> => {
  const journal = await openJournal(file, undefined, process.stderr.isTTY ? countTaken : undefined);
  for (const finding of journal.wrong) complain(`${safeText(file)}: ${findingInWords(finding)}. ${WHAT_TO_DO}`);
  if (!existsSync(settingsFile(file))) return journal;
  const { shared } = await import("../share/sharer.ts");
  return shared(journal, file);
};

/** Written over itself, and only where somebody looks on: a big journal takes a minute the first time. */
const countTaken: ToldProgress = (done, left, of) => {
  process.stderr.write(`\r${progressInWords(done, left, of)}${left === 0 ? "\r\n" : ""}`);
};

/**
 * How far a long reading is: "Reading: 500 events, 1500 left (25 %)", as wide as every other line of its kind,
 * so that it writes over the one before.
 */
export const progressInWords: (...progress: Parameters<ToldProgress>) => string = (done, left, of) => {
  const [during, after] = PROGRESS[of];
  const words =
    left === 0
      ? `${after}: ${done} ${of}.`
      : `${during}: ${done} ${of}, ${left} left (${Math.floor((100 * done) / (done + left))} %)`;
  return words.padEnd(PROGRESS_WIDTH);
};
const PROGRESS = { events: ["Reading", "Read"], fixtures: ["Calculating", "Calculated"] } as const;
const PROGRESS_WIDTH = 60;

const WHAT_TO_DO =
  'Put the newer file back if there is one; "limber journal accept" goes on without it. Until then nothing can be signed.';

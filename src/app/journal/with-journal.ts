import { existsSync } from "node:fs";
import { problem } from "../../domain/problem/problem.ts";
import { type FileJournal, openJournal } from "../../io/store/journal.ts";
import type { ExitCode } from "../common/exit.ts";
import { refuse } from "../common/print.ts";

/** Works on a journal that is there already: a misspelt name must not make an empty one. */
export const withJournal = async (
  file: string,
  work: (journal: FileJournal) => Promise<ExitCode>,
): Promise<ExitCode> => {
  if (!existsSync(file)) return refuse([problem(file, "there is no journal here", "the first limber sweep makes one")]);
  const journal = await openJournal(file);
  try {
    return await work(journal);
  } finally {
    await journal.close();
  }
};

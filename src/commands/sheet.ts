import { tellJobSheet } from "../report/job-sheet-text.ts";
import { openJournal } from "../store/journal.ts";
import { EXIT, type ExitCode } from "./exit.ts";
import { keptRun } from "./kept-run.ts";
import { sheetFrom } from "./play-run.ts";
import { print, refuse } from "./print.ts";

/** The job sheet of a run in the journal. */
export const showSheet = async (file: string, name: string, json: boolean): Promise<ExitCode> => {
  const journal = await openJournal(file);
  try {
    const kept = await keptRun(journal, name);
    if (!kept.ok) return refuse(kept.problems);
    const { run, material } = kept.value;
    const sheet = await sheetFrom(journal, run, material.profile.value);
    print(json ? JSON.stringify(sheet, undefined, 2) : tellJobSheet(sheet));
    return EXIT.done;
  } finally {
    await journal.close();
  }
};

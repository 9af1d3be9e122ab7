import type { JobSheet } from "../report/job-sheet.ts";
import { tellJobSheet } from "../report/job-sheet-text.ts";
import { openJournal } from "../store/journal.ts";
import { deliver } from "./deliver.ts";
import type { ExitCode } from "./exit.ts";
import { keptRun } from "./kept-run.ts";
import { knowledgeIn, sheetFrom } from "./play-run.ts";
import { refuse } from "./print.ts";

/** The forms a job sheet comes in. */
export const SHEET_FORMS = ["text", "json", "csv", "html", "label"] as const;
export type SheetForm = (typeof SHEET_FORMS)[number];

export interface SheetOptions {
  readonly journal: string;
  readonly as: SheetForm;
  /** A file to write; without it the sheet is printed. */
  readonly out: string | undefined;
}

/** The job sheet of a run in the journal. */
export const showSheet = async (name: string, { journal: file, as, out }: SheetOptions): Promise<ExitCode> => {
  const journal = await openJournal(file);
  try {
    const kept = await keptRun(journal, name);
    if (!kept.ok) return refuse(kept.problems);
    const { run, material } = kept.value;
    const sheet = await sheetFrom(journal, run, material.profile.value, await knowledgeIn(journal));
    return deliver(await inForm(sheet, as), out);
  } finally {
    await journal.close();
  }
};

/** What makes pages and tables is loaded only when one is asked for. */
const inForm = async (sheet: JobSheet, form: SheetForm): Promise<string> => {
  switch (form) {
    case "text":
      return tellJobSheet(sheet);
    case "json":
      return JSON.stringify(sheet, undefined, 2);
    case "csv":
      return (await import("../report/job-sheet-csv.ts")).jobSheetCsv(sheet);
    case "html":
      return (await import("../report/page/job-sheet-page.ts")).jobSheetPage(sheet);
    case "label":
      return (await import("../report/label.ts")).labelOf(sheet).join("\n");
    default:
      return form satisfies never;
  }
};

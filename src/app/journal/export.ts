import { problem } from "../../domain/problem/problem.ts";
import { EXPORT_VERSION } from "../../reports/export-schema.ts";
import { deliver } from "../common/deliver.ts";
import { EXIT, type ExitCode } from "../common/exit.ts";
import { refuse } from "../common/print.ts";
import { takeAlong } from "./care.ts";
import { withJournal } from "./with-journal.ts";

export interface ExportOptions {
  readonly journal: string;
  readonly csv: boolean;
  readonly json: boolean;
  /** A file to write; without it everything is printed. */
  readonly out: string | undefined;
  /** A folder for the pictures of all photos. */
  readonly photos: string | undefined;
}

/** All runs for other programs: as a table of steps, looks and finds, or as JSON, run by run. */
export const exportRuns = async ({ journal: file, csv, json, out, photos }: ExportOptions): Promise<ExitCode> => {
  if (csv === json) return refuse([problem("export", "say in which form", "--csv or --json")]);
  return withJournal(file, async (journal) => {
    const runs = await journal.briefs({ kind: "all" });
    const text = csv
      ? (await import("../../reports/export-csv.ts")).exportCsv(runs)
      : JSON.stringify({ limber_export: EXPORT_VERSION, runs }, undefined, 2);
    const delivered = deliver(text, out);
    return photos === undefined || delivered !== EXIT.done ? delivered : takeAlong(runs, file, photos);
  });
};

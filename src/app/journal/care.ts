import { problem } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { copyPhotos, photoFolder } from "../../io/phone/photos.ts";
import { openJournal } from "../../io/store/journal.ts";
import { EXPORT_VERSION } from "../../reports/export-schema.ts";
import { many } from "../../reports/status-words.ts";
import type { RunSummary } from "../../run/events/summary.ts";
import { complain, deliver, EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { withJournal } from "./with-journal.ts";

/** Makes the derived tables anew from the events. */
export const rebuild = (file: string): Promise<ExitCode> =>
  withJournal(file, async (journal) => {
    const { events, runs, fixtures } = await journal.rebuild();
    print(`Rebuilt from ${many(events, "event")}: ${many(runs, "run")}, ${many(fixtures, "fixture")}.`);
    return EXIT.done;
  });

/** A whole copy of the journal with its photos, also while a run is being written to it; it counts as made once it has been opened and read. */
export const backup = (file: string, to: string): Promise<ExitCode> =>
  withJournal(file, async (journal) => {
    await journal.backup(to);
    const copy = await openJournal(to);
    try {
      const runs = await copy.briefs({ kind: "all" });
      print(`Copied: ${safeText(to)}, ${many(runs.length, "run")}, opened and read.`);
      return takeAlong(runs, file, photoFolder(to));
    } finally {
      await copy.close();
    }
  });

/** The photos that these runs name, copied from beside the journal. */
const takeAlong = (runs: readonly RunSummary[], journal: string, to: string): ExitCode => {
  const names = runs.flatMap(({ photos }) => photos.map(({ file }) => file));
  if (names.length === 0) return EXIT.done;
  try {
    const { copied, missing } = copyPhotos(photoFolder(journal), to, names);
    complain(`${many(copied, "photo")} copied to ${safeText(to)}.`);
    if (missing > 0) complain(`${many(missing, "photo")} missing beside the journal, or changed since: not copied.`);
    return EXIT.done;
  } catch (error) {
    return refuse([
      problem(to, `the photos cannot be written there (${error instanceof Error ? error.message : error})`),
    ]);
  }
};

interface ExportOptions {
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
      ? (await import("../../reports/tables.ts")).exportCsv(runs)
      : JSON.stringify({ limber_export: EXPORT_VERSION, runs }, undefined, 2);
    const delivered = deliver(text, out);
    return photos === undefined || delivered !== EXIT.done ? delivered : takeAlong(runs, file, photos);
  });
};

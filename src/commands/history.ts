import { historyOf } from "../memory/history.ts";
import { hintFor } from "../problem/nearest.ts";
import { problem } from "../problem/problem.ts";
import { tellHistory } from "../report/history-text.ts";
import { deliver } from "./deliver.ts";
import type { ExitCode } from "./exit.ts";
import { refuse } from "./print.ts";
import { withJournal } from "./with-journal.ts";

export interface HistoryOptions {
  readonly journal: string;
  readonly json: boolean;
  /** A file to write; without it the history is printed. */
  readonly out: string | undefined;
}

/** What is known of one fixture from all its runs. */
export const showHistory = (serial: string, { journal: file, json, out }: HistoryOptions): Promise<ExitCode> =>
  withJournal(file, async (journal) => {
    const history = historyOf(serial, await journal.briefs({ kind: "fixture", serial }));
    if (history) return deliver(json ? JSON.stringify(history, undefined, 2) : tellHistory(history), out);
    const serials = [...new Set((await journal.briefs({ kind: "all" })).map((run) => run.serial))];
    const hint = hintFor(serial, serials) ?? '"limber stock" lists the fixtures';
    return refuse([problem(serial, "no run of a fixture with this serial number is in the journal", hint)]);
  });

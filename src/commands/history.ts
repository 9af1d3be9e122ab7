import { historyOf } from "../memory/history.ts";
import type { Journal } from "../ports.ts";
import { hintFor } from "../problem/nearest.ts";
import { type Problem, problem } from "../problem/problem.ts";
import { isNameless } from "../record/no-serial.ts";
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
export const showHistory = async (serial: string, options: HistoryOptions): Promise<ExitCode> => {
  if (isNameless(serial)) return refuse([NAMELESS]);
  return withJournal(options.journal, async (journal) => {
    const which = { kind: "fixture", serial } as const;
    const runs = await journal.briefs(which);
    const history = historyOf(serial, runs, (await journal.standings(which)).get(serial));
    if (!history) return refuse([await unknown(journal, serial)]);
    return deliver(options.json ? JSON.stringify(history, undefined, 2) : tellHistory(history), options.out);
  });
};

const NAMELESS = problem(
  "history",
  "without a serial number nobody can tell one fixture from another",
  '"limber runs" lists all runs',
);

const unknown = async (journal: Journal, serial: string): Promise<Problem> => {
  const serials = [...(await journal.standings({ kind: "all" })).keys()];
  const hint = hintFor(serial, serials) ?? '"limber stock" lists the fixtures';
  return problem(serial, "no run of a fixture with this serial number is in the journal", hint);
};

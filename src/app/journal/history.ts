import { identityKey } from "../../domain/problem/identity.ts";
import { hintFor } from "../../domain/problem/nearest.ts";
import { type Problem, problem } from "../../domain/problem/problem.ts";
import { tellHistory } from "../../reports/history-text.ts";
import { isNameless } from "../../run/events/no-serial.ts";
import { historyOf } from "../../run/memory/history.ts";
import type { Journal } from "../../run/ports.ts";
import { deliver } from "../common/deliver.ts";
import type { ExitCode } from "../common/exit.ts";
import { refuse } from "../common/print.ts";
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
    const history = historyOf(serial, runs, (await journal.standings(which)).get(identityKey(serial)));
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
  const serials = [...new Set((await journal.briefs({ kind: "all" })).map((brief) => brief.serial))];
  const hint = hintFor(serial, serials) ?? '"limber stock" lists the fixtures';
  return problem(serial, "no run of a fixture with this serial number is in the journal", hint);
};

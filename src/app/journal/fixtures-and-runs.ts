import { existsSync } from "node:fs";
import { identityKey } from "../../domain/problem/identity.ts";
import { hintFor, type Problem, problem } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { journalPlace } from "../../io/systems.ts";
import { tellHistory } from "../../reports/history-text.ts";
import { tellStock } from "../../reports/stock-text.ts";
import { isNameless, type RunSummary } from "../../run/events/summary.ts";
import { type FixtureHistory, fixtureHistoryOf } from "../../run/memory/history.ts";
import { type Stock, stockOf } from "../../run/memory/stock.ts";
import type { Journal } from "../../run/ports.ts";
import { deliver, EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { withJournal } from "./with-journal.ts";

interface HistoryOptions {
  readonly journal: string;
  readonly as: "text" | "json" | "html";
  /** A file to write; without it the history is printed. */
  readonly out: string | undefined;
}

/** What is known of one fixture from all its runs. */
export const showHistory = async (serial: string, options: HistoryOptions): Promise<ExitCode> => {
  if (isNameless(serial)) return refuse([NAMELESS]);
  return withJournal(options.journal, async (journal) => {
    const which = { kind: "fixture", serial } as const;
    const runs = await journal.briefs(which);
    const history = fixtureHistoryOf(serial, runs, (await journal.standings(which)).get(identityKey(serial)));
    if (!history) return refuse([await unknown(journal, serial)]);
    return deliver(await inForm(history, options.as), options.out);
  });
};

/** What makes pages is loaded only when one is asked for. */
const inForm = async (history: FixtureHistory, form: HistoryOptions["as"]): Promise<string> => {
  if (form === "json") return JSON.stringify(history, undefined, 2);
  return form === "html"
    ? (await import("../../reports/page/history-page.ts")).historyPage(history)
    : tellHistory(history);
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

/** The runs in the journal, oldest first. */
export const listRuns = async (file: string, json: boolean): Promise<ExitCode> => {
  if (file === journalPlace(process.env) && !existsSync(file)) return list([], json);
  return withJournal(file, async (journal) => list(await journal.briefs({ kind: "all" }), json));
};

const list = (runs: readonly RunSummary[], json: boolean): ExitCode => {
  if (json) print(JSON.stringify(runs.map(runData), undefined, 2));
  else for (const line of runs.length > 0 ? runs.map(runLine) : ["No run yet."]) print(line);
  return EXIT.done;
};

const runData = ({ run, at, person, serial, profile, sequence, simulated, ended, steps }: RunSummary) => ({
  run,
  at,
  person,
  serial,
  profile,
  sequence,
  simulated,
  ended,
  judged: steps.filter(({ result }) => result !== "not-asked").length,
  steps: steps.length,
});

const runLine = (brief: RunSummary): string => {
  const { run, at, serial, profile, sequence, simulated, ended, judged, steps } = runData(brief);
  const state =
    ended === "finished" ? "finished" : `${judged} of ${steps} steps, ${ended === "open" ? "not finished" : ended}`;
  return safeText(
    `${run}  ${at.slice(0, 16).replace("T", " ")}  ${serial}  ${profile}  ${sequence}  ${state}${simulated ? "  simulated" : ""}`,
  );
};

type StockForm = "text" | "json" | "csv" | "html" | "overview";

export interface StockOptions {
  readonly journal: string;
  readonly as: StockForm;
  /** A file to write; without it the stock is printed. */
  readonly out: string | undefined;
  /** The simulated fixtures instead of the real ones. */
  readonly simulated: boolean;
}

/** All fixtures as their runs left them, what was found in them, and what they wait for. */
export const showStock = ({ journal: file, as, out, simulated }: StockOptions): Promise<ExitCode> =>
  withJournal(file, async (journal) => {
    // In this order: a run that is begun in between must not be of a fixture that stands nowhere.
    const runs = await journal.briefs({ kind: "all" });
    const standings = await journal.standings({ kind: "all" });
    const stock = stockOf(runs, standings, simulated ? "simulated" : "real");
    return deliver(await stockInForm(stock, as), out);
  });

const today = (): string => new Date().toISOString();

/** What makes pages and tables is loaded only when one is asked for. */
const stockInForm = async (stock: Stock, form: StockForm): Promise<string> => {
  switch (form) {
    case "text":
      return tellStock(stock);
    case "json":
      return JSON.stringify(stock, undefined, 2);
    case "csv":
      return (await import("../../reports/tables.ts")).stockCsv(stock);
    case "html":
      return (await import("../../reports/page/stock-page.ts")).stockPage(stock, today());
    case "overview":
      return (await import("../../reports/page/stock-page.ts")).overviewPage(stock, today());
    default:
      return form satisfies never;
  }
};

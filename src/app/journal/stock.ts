import { tellStock } from "../../reports/stock-text.ts";
import { type Stock, stockOf } from "../../run/memory/stock.ts";
import { deliver, type ExitCode } from "../common/output.ts";
import { withJournal } from "./with-journal.ts";

/** The forms the stock comes in. */
const STOCK_FORMS = ["text", "json", "csv", "html", "overview"] as const;
type StockForm = (typeof STOCK_FORMS)[number];

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
    return deliver(await inForm(stock, as), out);
  });

const today = (): string => new Date().toISOString();

/** What makes pages and tables is loaded only when one is asked for. */
const inForm = async (stock: Stock, form: StockForm): Promise<string> => {
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

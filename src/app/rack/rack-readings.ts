import { readingsFromTable } from "../../data/rack/readings.ts";
import { problem } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { readBytes } from "../../io/files/outside.ts";
import { type ReadingsChart, readingsCharts } from "../../reports/rack-readings.ts";
import { chartsText } from "../../reports/rack-readings-text.ts";
import { deliver, type ExitCode, refuse } from "../common/output.ts";
import { loadDraft } from "./rack-data.ts";

const MOST_BYTES = 1_000_000;

const READINGS_FORMS = ["text", "json", "html"] as const;
export interface ReadingsOptions {
  readonly as: (typeof READINGS_FORMS)[number];
  readonly out: string | undefined;
}

/** Shows readings of a rack side by side and names the odd ones. */
export const showReadings = async (name: string, table: string, { as, out }: ReadingsOptions): Promise<ExitCode> => {
  const draft = loadDraft(fileLibrary(), name);
  if (!draft.ok) return refuse(draft.problems);
  const read = readBytes(table, MOST_BYTES);
  if (read.kind === "unread") return refuse([problem(table, read.why)]);
  const readings = readingsFromTable(table, new TextDecoder().decode(read.bytes), draft.value.value.rack);
  if (!readings.ok) return refuse(readings.problems);
  const charts = readingsCharts(readings.value);
  return deliver(await inForm(draft.value.value.rack.title, charts, as), out);
};

const inForm = async (
  title: string,
  charts: readonly ReadingsChart[],
  form: ReadingsOptions["as"],
): Promise<string> => {
  switch (form) {
    case "json":
      return JSON.stringify(charts, undefined, 2);
    case "html":
      return (await import("../../reports/page/rack-page.ts")).readingsPage(title, charts);
    case "text":
      return charts.length > 0 ? chartsText(charts).map(safeText).join("\n") : "No readings in this table.";
    default:
      return form satisfies never;
  }
};

import { problem } from "../problem/problem.ts";
import { safeText } from "../problem/terminal.ts";
import { readingsFromTable } from "../rack/readings-table.ts";
import { readingsCharts } from "../report/rack-readings.ts";
import { chartsText } from "../report/rack-readings-text.ts";
import { fileShelf } from "../shelf/files.ts";
import { readBytes } from "../shelf/outside.ts";
import { EXIT, type ExitCode } from "./exit.ts";
import { print, refuse } from "./print.ts";
import { loadDraft } from "./rack-data.ts";

const MOST_BYTES = 1_000_000;

/** Shows readings of a rack side by side and names the odd ones, as text or as data. */
export const showReadings = (name: string, table: string, json: boolean): ExitCode => {
  const draft = loadDraft(fileShelf(), name);
  if (!draft.ok) return refuse(draft.problems);
  const read = readBytes(table, MOST_BYTES);
  if (read.kind === "unread") return refuse([problem(table, read.why)]);
  const readings = readingsFromTable(table, new TextDecoder().decode(read.bytes), draft.value.value.rack);
  if (!readings.ok) return refuse(readings.problems);
  const charts = readingsCharts(readings.value);
  if (json) print(JSON.stringify(charts, undefined, 2));
  else print(charts.length > 0 ? chartsText(charts).map(safeText).join("\n") : "No readings in this table.");
  return EXIT.done;
};

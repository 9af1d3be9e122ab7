import { bad, byPlace, good, type Problem, type Result } from "../../domain/problem/problem.ts";
import { readTable, type TableRow } from "../../domain/problem/table.ts";
import type { FindProfile } from "./parse.ts";
import { entryText, inYaml, newRackText } from "./write.ts";

const COLUMNS = {
  needed: ["serial", "profile", "place"],
  others: ["universe", "address", "shelf"],
} as const;

/**
 * A rack file from a table with the columns serial, profile, place, universe and address: one row for each fixture, places
 * as "top shelf, 3rd from the left". Universe and address may be empty. Mistakes name the line of the table.
 */
export const rackFromTable = (source: string, text: string, name: string, find: FindProfile): Result<string> => {
  const table = readTable(source, text, COLUMNS);
  if (!table.ok) return table;
  const { rows } = table.value;
  if (rows.length === 0)
    return bad({ source, place: undefined, message: "no fixtures in this table", hint: undefined });
  const problems = rows.flatMap((row, index) => [...rowProblems(row, find), ...twice(rows.slice(0, index), row)]);
  return problems.length > 0 ? bad(...byPlace(problems)) : good(fileOf(name, rows));
};

const rowProblems = (row: TableRow, find: FindProfile): readonly Problem[] => {
  const missing = COLUMNS.needed.filter((column) => row.cell(column) === undefined);
  const profile = row.cell("profile");
  const found = profile === undefined ? undefined : find(profile);
  return [
    ...missing.map((column) => row.problem(undefined, `"${column}" is empty`)),
    ...(found && !found.ok ? found.problems.map((one) => row.problem("profile", one.message, one.hint)) : []),
    ...(placeOf(row).shelf === "" ? [row.problem("place", "no shelf", 'as in: "top shelf, 3rd from the left"')] : []),
    ...((row.cell("universe") === undefined) !== (row.cell("address") === undefined)
      ? [row.problem(undefined, "universe and address go together", "both, or neither yet")]
      : []),
    ...wholeUpTo(row, "universe", 63999),
    ...wholeUpTo(row, "address", 512),
  ];
};

const wholeUpTo = (row: TableRow, column: string, most: number): readonly Problem[] => {
  const cell = row.cell(column);
  return cell === undefined || (/^\d{1,5}$/.test(cell) && Number(cell) >= 1 && Number(cell) <= most)
    ? []
    : [
        row.problem(
          column,
          `"${cell}" is not ${column === "address" ? "a start address" : "a universe"}`,
          `1 to ${most}`,
        ),
      ];
};

const twice = (before: readonly TableRow[], row: TableRow): readonly Problem[] => {
  const serial = row.cell("serial");
  const came = serial !== undefined && before.some((other) => other.cell("serial") === serial);
  return came ? [row.problem("serial", `serial ${serial} came before`)] : [];
};

/** The shelf has a column of its own, or stands before the first comma. */
const placeOf = (row: TableRow): { readonly shelf: string; readonly position: string } => {
  const [place, shelf] = [row.cell("place") ?? "", row.cell("shelf")];
  if (shelf !== undefined) return { shelf, position: place };
  const comma = place.indexOf(",");
  return { shelf: place.slice(0, Math.max(0, comma)).trim(), position: place.slice(comma + 1).trim() };
};

const fileOf = (name: string, rows: readonly TableRow[]): string =>
  newRackText({
    name,
    title: name,
    universes: rows.map((row) => Number(row.cell("universe") ?? 1)),
    remark: "",
    entries: rows.map(entryOf),
  });

const entryOf = (row: TableRow): string => {
  const { shelf, position } = placeOf(row);
  return entryText([
    ["serial", inYaml(row.cell("serial") ?? "")],
    ["profile", inYaml(row.cell("profile") ?? "")],
    ["shelf", inYaml(shelf)],
    ["place", inYaml(position)],
    ["universe", row.cell("universe")],
    ["address", row.cell("address")],
  ]);
};

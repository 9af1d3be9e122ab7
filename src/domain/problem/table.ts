import { CsvError, parse } from "csv-parse/sync";
import { bad, good, hintFor, type Problem, problem, type Result } from "./problem.ts";

/** A table from another program: its rows, and the way from each cell back to the text. */
export interface Table {
  readonly rows: readonly TableRow[];
}
export interface TableRow {
  /** What a cell holds, without blanks around it; undefined where it is empty or the table lacks the column. */
  cell(column: string): string | undefined;
  /** A mistake in a cell, or in the row as a whole. */
  problem(column: string | undefined, message: string, hint?: string): Problem;
}

interface Columns {
  readonly needed: readonly string[];
  readonly others: readonly string[];
}

const MOST_CHARACTERS = 1_000_000;

/**
 * Reads comma-, semicolon- or tab-separated values (RFC 4180) whose first row names the columns, in whatever case and order.
 * Columns that are missing or unknown are told together.
 */
export const readTable = (source: string, text: string, columns: Columns): Result<Table> => {
  if (text.length > MOST_CHARACTERS) return bad(problem(source, `larger than ${MOST_CHARACTERS} characters`));
  const records = recordsIn(source, text);
  if (!records.ok) return records;
  const [head, ...body] = records.value;
  if (!head)
    return bad(problem(source, "an empty table", `its first row names the columns: ${columns.needed.join(", ")}`));
  const known = [...columns.needed, ...columns.others];
  const names = head.cells.map((name) => known.find((one) => one.toLowerCase() === name.toLowerCase()) ?? name);
  const wrong = [
    ...columns.needed
      .filter((name) => !names.includes(name))
      .map((name) => lineProblem(source, text, head.line, undefined, `there is no column "${name}"`)),
    ...names
      .filter((name) => !known.includes(name))
      .map((name) =>
        lineProblem(source, text, head.line, name, `"${name}" is not a known column`, hintFor(name, known)),
      ),
  ];
  return wrong.length > 0 ? bad(...wrong) : good({ rows: body.map((record) => rowOf(source, text, names, record)) });
};

interface Record {
  readonly line: number;
  readonly cells: readonly string[];
}

const recordsIn = (source: string, text: string): Result<readonly Record[]> => {
  try {
    const read = parse(text, {
      bom: true,
      trim: true,
      info: true,
      delimiter: separatorOf(text),
      relax_column_count: true,
      skip_empty_lines: true,
      skip_records_with_empty_values: true,
    });
    return good(
      (read as unknown as readonly { record: string[]; info: { lines: number } }[]).map(({ record, info }) => ({
        line: info.lines,
        cells: record,
      })),
    );
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return bad(problem(source, error.message));
  }
};

/** The one between the names of the columns: a comma further down may be a decimal mark. */
const separatorOf = (text: string): string => {
  const names = text.split("\n").find((line) => line.trim() !== "") ?? "";
  return ["\t", ";"].find((separator) => names.includes(separator)) ?? ",";
};

const rowOf = (source: string, text: string, names: readonly string[], { line, cells }: Record): TableRow => {
  const cell = (column: string) => cells[names.indexOf(column)] || undefined;
  return {
    cell,
    problem: (column, message, hint) =>
      lineProblem(source, text, line, column === undefined ? undefined : cell(column), message, hint),
  };
};

/** Points at the words in the line; at the whole line where they do not stand there as such. */
const lineProblem = (
  source: string,
  text: string,
  line: number,
  words: string | undefined,
  message: string,
  hint?: string,
): Problem => {
  const whole = text.split(/\r?\n/)[line - 1] ?? "";
  const at = words === undefined ? -1 : cellAt(whole, words);
  return {
    source,
    place: {
      line,
      column: at < 0 ? 1 : at + 1,
      text: whole,
      length: Math.max(1, at < 0 ? whole.length : (words?.length ?? 1)),
    },
    message,
    hint,
  };
};

/** Where a cell with these words begins, not where they stand inside another one; -1 where there is none. */
const cellAt = (line: string, words: string): number => {
  const edge = (at: number) => /[\s,;"]/.test(line[at] ?? ",");
  let at = line.indexOf(words);
  while (at >= 0 && !(edge(at - 1) && edge(at + words.length))) at = line.indexOf(words, at + 1);
  return at;
};

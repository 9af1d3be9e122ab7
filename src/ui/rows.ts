import { safeText } from "../domain/problem/terminal.ts";
import { cut, hanging, padded, widthOf, wrapped } from "../reports/wrap.ts";
import { largeLetters } from "./large.ts";
import { stripOf, stripRows, tallStrip } from "./strip.ts";
import type { Emphasis, FixtureList, FixtureRow, Keep, Letters, Line, Words } from "./view.ts";

/** One row of a terminal. */
export interface Row {
  readonly text: string;
  readonly look: Emphasis;
  readonly keep: Keep;
}

export const NO_ROW: Row = { text: "", look: "plain", keep: 0 };
export const MARGIN = 2;

/** What stands in the place of answers that are not taken yet. */
const WAITING = "...";

/**
 * Sets what a page says into `columns` of a terminal. How to answer is shown from the moment on in which a key answers
 * (`listening`); until then its rows are kept free.
 */
export const rowsOf = (lines: readonly Line[], columns: number, listening: boolean): readonly Row[] =>
  lines.flatMap((line, at) => {
    const rows = rowsOfLine(line, columns);
    return listening || !isAnswer(line) ? rows : waiting(rows, isAnswer(lines[at - 1]));
  });

const isAnswer = (line: Line | undefined): boolean => line?.kind === "words" && line.role === "answer";

const waiting = (rows: readonly Row[], goesOn: boolean): readonly Row[] =>
  rows.map((row, at) => ({ ...row, text: at === 0 && !goesOn ? asRow(WAITING).text : "" }));

const rowsOfLine = (line: Line, columns: number): readonly Row[] => {
  const room = columns - 2 * MARGIN;
  switch (line.kind) {
    case "gap":
      return [NO_ROW];
    case "words":
      return wordRows(line, room).map((text) => asRow(text, line.look, line.keep));
    case "strips":
      return stripRows(line.marks, room, line.detail).map((text) => asRow(text));
    case "tall-strip":
      return tallStrip(line.mark, room - 2).map((text) => asRow(text));
    case "letters":
      return letterRows(line, room);
    case "fixtures":
      return tableRows(line, room);
    case "drawing":
      return line.rows.map((text) => asRow(text));
    default:
      return line satisfies never;
  }
};

/** The widest that shelf, position and serial number may be. */
const MOST_WIDE = { shelf: 12, position: 17, serial: 10 } as const;

const tableRows = ({ rows, keyWidth, which, keep }: FixtureList, room: number): readonly Row[] => {
  const width = (column: keyof typeof MOST_WIDE | "state", most = Number.POSITIVE_INFINITY) =>
    Math.min(most, Math.max(0, ...rows.map((row) => row[column].length)));
  const shelf = width("shelf", MOST_WIDE.shelf);
  const position = width("position", MOST_WIDE.position);
  const serial = width("serial", MOST_WIDE.serial);
  return rows.flatMap((row, at) => {
    if (which !== "all" && row.look !== "strong") return [];
    const before = [
      cell(row.shelf === rows[at - 1]?.shelf ? "" : row.shelf, shelf),
      row.key.padEnd(Math.max(1, keyWidth)),
      cell(row.position, position),
      cell(row.serial, serial),
      row.state.padEnd(width("state")),
    ].join("  ");
    const left = room - widthOf(before) - 2;
    return [asRow(`${before}  ${cell(detailWords(row.detail, left), left)}`.trimEnd(), row.look, keep)];
  });
};

const cell = (words: string, width: number): string => padded(cut(safeText(words), width), width);

const LEAST_STRIP = 8;
/** Columns for the words behind a strip. */
const STRIP_WORDS = 14;
const detailWords = (detail: FixtureRow["detail"], room: number): string =>
  detail.kind === "words"
    ? detail.words
    : `[${stripOf(detail, Math.max(LEAST_STRIP, room - STRIP_WORDS))}] ${detail.words}`;

const letterRows = ({ text, high, keep }: Letters, room: number): readonly Row[] =>
  (largeLetters(text, room, high) ?? []).map((row) => asRow(row, "strong", keep));

/** Over as many rows as it needs; what has one row only shows by dots that something was left out. */
const wordRows = ({ mark, text, most }: Words, room: number): readonly string[] => {
  if (most === 1) return [mark + cut(text, room - widthOf(mark))];
  return (mark === "" ? wrapped(text, room) : hanging(mark, text, room)).slice(0, most);
};

/** One row of the terminal with its margin, as it is and without a break. */
export const asRow = (text: string, look: Row["look"] = "plain", keep: Row["keep"] = 2): Row => ({
  text: " ".repeat(MARGIN) + text,
  look,
  keep,
});

/** A row with words at the left and at the right edge of `columns`; the left ones give way. */
export const edges = (left: string, right: string, columns: number, look: Row["look"]): Row => {
  const room = columns - 2 * MARGIN - widthOf(right) - 2;
  return asRow(`${padded(cut(left, room), room)}  ${right}`, look);
};

/** Cuts a page down to `most` rows: blank ones go first, from below, then what can be spared, then the last. */
export const fitted = (rows: readonly Row[], most: number): readonly Row[] => {
  let left = [...rows];
  for (const keep of [0, 1] as const)
    while (left.length > most) {
      const index = left.findLastIndex((row) => row.keep === keep);
      if (index < 0) break;
      left = left.toSpliced(index, 1);
    }
  return left.slice(0, most);
};

import { safeText } from "../domain/problem/shown-text.ts";
import { cut, hanging, padded, widthOf } from "../reports/wrap.ts";
import { ON_A_PAGE, type OpenRows, openPage } from "./fixture-keys.ts";
import { byShelf } from "./fixture-rows.ts";
import { stripOf } from "./strip.ts";
import type { Emphasis, FixtureList, FixtureRow } from "./view.ts";

/** One row of a list as it stands in a terminal, without the margin. */
export interface ListRow {
  readonly text: string;
  readonly look: Emphasis;
}

/**
 * The fixtures of a rack in `most` rows of a terminal at most, each of `columns` at most: all of them, or a page that says
 * of how many it shows how many, and how to see the others. No row is left out without a word.
 */
export const listRows = (list: FixtureList, columns: number, most: number): readonly ListRow[] => {
  if (list.which !== "all")
    return tableRows(
      list,
      list.rows.filter(({ look }) => look === "strong"),
      columns,
    );
  const fits = list.rows.length <= Math.min(ON_A_PAGE, most);
  if (list.crowded === "by shelf" && !fits) return shelfPage(list, columns, most);
  const open = fits ? everyRow(list) : openPage(list.leafing, list.rows.length, Math.min(ON_A_PAGE, most - 1));
  return [...tableRows(list, shownOf(list, open), columns), ...leafRow(list, open)];
};

const everyRow = ({ leafing, rows }: FixtureList): OpenRows => openPage(leafing, rows.length, rows.length);

const shownOf = ({ rows }: FixtureList, { shown }: OpenRows): readonly FixtureRow[] =>
  rows.filter((_, index) => shown.includes(index));

/** Says that there are more, and how to see them. */
const leafRow = ({ rows }: FixtureList, { shown, page, pages }: OpenRows): readonly ListRow[] =>
  pages < 2
    ? []
    : [
        {
          text: `${shown.length} of ${rows.length} fixtures shown. TAB: next page, ${page} of ${pages}.`,
          look: "strong",
        },
      ];

/** As many fixtures on every page as there is room for, by their serial numbers alone. */
const shelfPage = (list: FixtureList, columns: number, most: number): readonly ListRow[] => {
  const { leafing, rows } = list;
  const pageWith = (open: OpenRows) => [...shelfRows(shownOf(list, open), columns), ...leafRow(list, open)];
  const fits = (count: number): boolean =>
    Array.from({ length: Math.ceil(rows.length / count) }, (_, leafed) =>
      pageWith(openPage({ ...leafing, leafed }, rows.length, count)),
    ).every(({ length }) => length <= most);
  const counts = Array.from({ length: rows.length }, (_, less) => rows.length - less);
  return pageWith(openPage(leafing, rows.length, counts.find(fits) ?? 1));
};

/** "top     SP-101, SP-102 (withdrawn), SP-103": a shelf in a row, or in more where it has many. */
const shelfRows = (rows: readonly FixtureRow[], columns: number): readonly ListRow[] => {
  const shelves = byShelf(rows.map((row) => ({ shelf: row.shelf, serial: namedWith(row) })));
  const width = Math.min(MOST_WIDE.shelf, Math.max(0, ...rows.map(({ shelf }) => widthOf(safeText(shelf)))));
  return shelves
    .flatMap(({ shelf, serials }) => hanging(`${cell(shelf, width)}  `, serials.join(", "), columns))
    .map((text) => ({ text, look: "plain" }));
};

const namedWith = ({ serial, state }: FixtureRow): string =>
  `${cut(safeText(serial), MOST_WIDE.serial)}${CUT_OFF.includes(state) ? ` (${state})` : ""}`;
const CUT_OFF: readonly string[] = ["withdrawn", "line lost"];

/** The widest that shelf, position and serial number may be. */
const MOST_WIDE = { shelf: 12, position: 17, serial: 10 } as const;

const tableRows = (list: FixtureList, rows: readonly FixtureRow[], columns: number): readonly ListRow[] => {
  const width = (column: keyof typeof MOST_WIDE | "state", most = Number.POSITIVE_INFINITY) =>
    Math.min(most, Math.max(0, ...rows.map((row) => row[column].length)));
  const shelf = width("shelf", MOST_WIDE.shelf);
  const position = width("position", MOST_WIDE.position);
  const serial = width("serial", MOST_WIDE.serial);
  return rows.map((row, at) => {
    const before = [
      cell(row.shelf === rows[at - 1]?.shelf ? "" : row.shelf, shelf),
      row.key.padEnd(Math.max(1, list.keyWidth)),
      cell(row.position, position),
      cell(row.serial, serial),
      row.state.padEnd(width("state")),
    ].join("  ");
    const left = columns - widthOf(before) - 2;
    return { text: `${before}  ${cell(detailWords(row.detail, left), left)}`.trimEnd(), look: row.look };
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

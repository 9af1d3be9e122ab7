import { h } from "hastscript";
import type { Piece } from "./document.ts";

/** One thing that is counted. */
export interface CountedThing {
  readonly name: string;
  readonly count: number;
  /** Beside the count, as "18 days" or "S-101, S-107"; empty where there is nothing to add. */
  readonly note: string;
}

/**
 * Counts as bars, the largest first, each with its share of all and the share of all up to it. Ordered this way one
 * sees how few kinds make up most of it.
 */
export const countedBars = (caption: string, what: string, unordered: readonly CountedThing[]): readonly Piece[] => {
  const rows = [...unordered].sort((a, b) => b.count - a.count);
  const all = rows.reduce((sum, { count }) => sum + count, 0);
  const most = Math.max(1, ...rows.map(({ count }) => count));
  let upTo = 0;
  return barTable(
    caption,
    [what, "Number", "Share", "Together"],
    rows.map(({ name, count, note }) => {
      upTo += count;
      return { name, note, part: count / most, cells: [String(count), percent(count / all), percent(upTo / all)] };
    }),
  );
};

/** Numbers as bars in the order in which they are given. */
export const numberBars = (
  caption: string,
  columns: readonly [what: string, number: string],
  rows: readonly CountedThing[],
): readonly Piece[] => {
  const most = Math.max(1, ...rows.map(({ count }) => count));
  return barTable(
    caption,
    columns,
    rows.map(({ name, count, note }) => ({ name, note, part: count / most, cells: [String(count)] })),
  );
};

interface BarRow {
  readonly name: string;
  readonly note: string;
  /** How long it is, as a share of the longest bar. */
  readonly part: number;
  readonly cells: readonly string[];
}

/** A bar only repeats the number beside it, so it is left out for those who are read to. */
const barTable = (caption: string, columns: readonly string[], rows: readonly BarRow[]): readonly Piece[] =>
  rows.length === 0
    ? []
    : [
        h("table", { class: "bars" }, [
          h("caption", caption),
          h(
            "thead",
            h(
              "tr",
              columns.map((column) => h("th", { scope: "col" }, column)),
            ),
          ),
          h(
            "tbody",
            rows.map(({ name, note, part, cells }) =>
              h("tr", [
                h("th", { scope: "row" }, [
                  name,
                  ...(note === "" ? [] : [h("span", { class: "quiet" }, ` ${note}`)]),
                  h("div", { class: "bar", ariaHidden: "true", style: `width: ${percent(part).replace(" ", "")}` }),
                ]),
                ...cells.map((cell) => h("td", { class: "number" }, cell)),
              ]),
            ),
          ),
        ]),
      ];

const percent = (share: number): string => `${Math.round(share * 100)} %`;

/** What came of something in a run: a sign that is not a colour alone. */
const SIGNS = { pass: "+", unsure: "?", fail: "X" } as const;
export type ResultSign = keyof typeof SIGNS;

/** Rows of results over time, the oldest left; a blank where it was not tested. */
export const resultGrid = (
  caption: string,
  what: string,
  columns: readonly string[],
  rows: readonly { readonly name: string; readonly results: readonly (ResultSign | undefined)[] }[],
): readonly Piece[] =>
  rows.length === 0
    ? []
    : [
        h("table", { class: "grid" }, [
          h(
            "caption",
            `${caption} ${SIGNS.pass} passed, ${SIGNS.unsure} unsure, ${SIGNS.fail} failed, blank: not tested.`,
          ),
          h(
            "thead",
            h(
              "tr",
              [what, ...columns].map((column) => h("th", { scope: "col" }, column)),
            ),
          ),
          h(
            "tbody",
            rows.map(({ name, results }) =>
              h("tr", [
                h("th", { scope: "row" }, name),
                ...results.map((told) => h("td", { class: told ?? "blank" }, told ? SIGNS[told] : "")),
              ]),
            ),
          ),
        ]),
      ];

/** A number that stands for itself, with what it counts. `count` is 0 or more. */
export const figure = (count: number | string, words: string): Piece =>
  h("div", { class: "figure" }, [h("strong", String(count)), h("span", words)]);

/** Places in their order, as they hang or stand side by side. */
export const places = (
  cells: readonly { readonly name: string; readonly words: string; readonly wrong: "wrong" | "not wrong" }[],
): Piece =>
  h(
    "ol",
    { class: "places" },
    cells.map(({ name, words, wrong }) =>
      h("li", { class: wrong === "wrong" ? "wrong" : "" }, [h("strong", name), h("span", words)]),
    ),
  );

import { toHtml } from "hast-util-to-html";
import { h, s } from "hastscript";
import { stretchesOf } from "../../domain/problem/writing.ts";
import { STYLE } from "./style.ts";

/** A piece of a page: a tree, so that no text from outside can ever become markup. */
export type Piece = ReturnType<typeof h>;

/**
 * One self-contained HTML file: no script, nothing fetched. The policy in its head forbids what the file does not
 * contain anyway (Content Security Policy Level 3, W3C).
 */
export const documentOf = (title: string, pieces: readonly Piece[]): string =>
  htmlOf(
    h(null, [
      { type: "doctype" },
      h("html", { lang: "en" }, [
        h("head", [
          h("meta", { charset: "utf-8" }),
          h("meta", { httpEquiv: "Content-Security-Policy", content: POLICY }),
          h("meta", { name: "viewport", content: "width=device-width, initial-scale=1" }),
          h("meta", { name: "color-scheme", content: "light dark" }),
          h("title", title),
          h("style", STYLE),
        ]),
        h("body", [h("main", [...pieces])]),
      ]),
    ]),
  );

type Page = Extract<Parameters<typeof toHtml>[0], { readonly type: "root" }>;

/** A whole page as the text of an HTML file; whatever is written from right to left keeps to itself. */
export const htmlOf = (page: Page): string =>
  `${toHtml({ ...page, children: page.children.flatMap((child) => directed(child, "page")) })}\n`;

/** Drawings have no element for it. */
const KEEPS_TO_ITSELF = {
  page: (text: string): Piece => h("bdi", text),
  drawing: (text: string): Piece => s("tspan", { style: "unicode-bidi: isolate" }, text),
} as const;

/** These hold text alone. */
const TEXT_ALONE: readonly string[] = ["title", "style"];

const directed = <Child extends Page["children"][number]>(
  child: Child,
  within: keyof typeof KEEPS_TO_ITSELF,
): readonly (Child | Piece | Piece["children"][number])[] => {
  if (child.type === "text")
    return stretchesOf(child.value).map((part) =>
      part.direction === "right to left" ? KEEPS_TO_ITSELF[within](part.text) : { type: "text", value: part.text },
    );
  if (child.type !== "element" || TEXT_ALONE.includes(child.tagName)) return [child];
  const inside = child.tagName === "svg" ? "drawing" : within;
  return [{ ...child, children: child.children.flatMap((one) => directed(one, inside)) }];
};

const POLICY = "default-src 'none'; img-src data:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

/** A part of a page under its heading; nothing at all when there is nothing in it. */
export const section = (heading: string, pieces: readonly Piece[]): readonly Piece[] =>
  pieces.length === 0 ? [] : [h("section", [h("h2", heading), ...pieces])];

/** A list with a bullet for each item; no piece at all when there is no item. */
export const list = (items: readonly string[]): readonly Piece[] =>
  items.length === 0
    ? []
    : [
        h(
          "ul",
          items.map((item) => h("li", item)),
        ),
      ];

/** A table with a heading for every column; the first cell of a row names the row. */
export const table = (
  caption: string,
  columns: readonly string[],
  rows: readonly (readonly (string | Piece)[])[],
): readonly Piece[] =>
  rows.length === 0
    ? []
    : [
        h("table", [
          h("caption", caption),
          h(
            "thead",
            h(
              "tr",
              columns.map((column) => h("th", { scope: "col" }, column)),
            ),
          ),
          h("tbody", rows.map(rowOf)),
        ]),
      ];

const rowOf = ([name = "", ...cells]: readonly (string | Piece)[]): Piece =>
  h("tr", [h("th", { scope: "row" }, name), ...cells.map((cell) => h("td", cell))]);

import { toHtml } from "hast-util-to-html";
import { h, s } from "hastscript";
import { stretchesOf } from "../../domain/problem/shown-text.ts";

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

type PageTree = Extract<Parameters<typeof toHtml>[0], { readonly type: "root" }>;

/** A whole page as the text of an HTML file; whatever is written from right to left keeps to itself. */
export const htmlOf = (page: PageTree): string =>
  `${toHtml({ ...page, children: page.children.flatMap((child) => directed(child, "page")) })}\n`;

/** Drawings have no element for it. */
const KEEPS_TO_ITSELF = {
  page: (text: string): Piece => h("bdi", text),
  drawing: (text: string): Piece => s("tspan", { style: "unicode-bidi: isolate" }, text),
} as const;

/** These hold text alone. */
const TEXT_ALONE: readonly string[] = ["title", "style"];

const directed = <Child extends PageTree["children"][number]>(
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

/** How all pages look: readable in dark and light, on a narrow telephone and on A4. States are words; colour only repeats them. */
const STYLE = `
:root {
  --paper: #ffffff; --ink: #1b1d21; --quiet: #565b64; --line: #c9ccd2; --shade: #f1f2f4; --mark: #8a4b00;
  color-scheme: light dark;
}
@media (prefers-color-scheme: dark) {
  :root { --paper: #15171a; --ink: #e9eaec; --quiet: #a9aeb7; --line: #3d4149; --shade: #202329; --mark: #ffb766; }
}
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 1rem/1.4 system-ui, sans-serif; }
main { max-width: 52rem; margin: 0 auto; padding: 1rem; overflow-wrap: anywhere; }
thead th { overflow-wrap: normal; }
h1 { font-size: 1.9rem; line-height: 1.15; margin: 0; }
h2 { font-size: 1.05rem; margin: 1.4rem 0 0.4rem; padding-bottom: 0.15rem; border-bottom: 2px solid var(--ink); }
p { margin: 0.3rem 0; }
.quiet, caption, figcaption { color: var(--quiet); font-size: 0.9rem; }
.verdict { font-weight: 700; font-size: 1.4rem; border-left: 0.4rem solid var(--ink); padding: 0.1rem 0.6rem; margin: 0.5rem 0; }
.verdict.wrong { border-color: var(--mark); color: var(--mark); }
.state { font-weight: 700; font-size: 1.15rem; }
.notice { border: 2px solid var(--mark); color: var(--mark); padding: 0.3rem 0.6rem; margin: 0.6rem 0; font-weight: 600; }
pre { overflow-x: auto; padding: 0.5rem; background: var(--shade); font-size: 0.85rem; }
a { color: inherit; }
ul, ol { margin: 0.3rem 0; padding-left: 1.2rem; }
li { margin: 0.2rem 0; }
li p { margin: 0.1rem 0; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: 0.1rem 0.8rem; margin: 0.6rem 0; }
dt { color: var(--quiet); }
dd { margin: 0; }
table { width: 100%; border-collapse: collapse; }
caption { text-align: left; }
th, td { text-align: left; vertical-align: top; padding: 0.25rem 0.5rem 0.25rem 0; border-bottom: 1px solid var(--line); }
thead th { color: var(--quiet); font-weight: 600; font-size: 0.85rem; }
tbody th { font-weight: 600; min-width: 5.5rem; }
/* The second cell holds words of ours, never a text from outside. */
td:nth-child(2) { overflow-wrap: normal; }
.bars .quiet { font-weight: 400; }
.bar { height: 0.35rem; margin-top: 0.15rem; background: var(--ink); }
.number { white-space: nowrap; }
.grid td, .grid thead th:not(:first-child) { text-align: center; padding: 0.15rem 0.1rem; }
.grid thead th { font-size: 0.7rem; }
.grid tbody th { font-weight: 400; }
.grid .fail { font-weight: 700; background: var(--mark); color: var(--paper); }
.grid .unsure { font-weight: 700; }
.figures { display: flex; flex-wrap: wrap; gap: 0.5rem; margin: 0.8rem 0; }
.figure { border: 1px solid var(--line); background: var(--shade); padding: 0.3rem 0.7rem; flex: 1 1 6.5rem; }
.figure strong { display: block; font-size: 1.6rem; line-height: 1.1; }
.side-by-side { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(22rem, 100%), 1fr)); gap: 0 1.2rem; align-items: start; }
.places { display: grid; grid-template-columns: repeat(auto-fill, minmax(6.2rem, 1fr)); gap: 0.3rem; list-style: none; padding: 0; }
.places li { border: 1px solid var(--line); padding: 0.2rem 0.4rem; margin: 0; }
.places li.wrong { border: 2px solid var(--mark); color: var(--mark); }
.places strong, .places span { display: block; }
.places span { font-size: 0.85rem; }
figure { margin: 0.6rem 0; }
svg { display: block; width: 100%; height: auto; }
svg .travel { stroke: var(--line); stroke-width: 2; }
svg .tick { stroke: var(--ink); stroke-width: 2; }
svg .place { fill: none; stroke: var(--mark); stroke-width: 2; }
svg .place, svg .limit { stroke: var(--mark); }
svg .dot { fill: var(--ink); }
svg text { fill: var(--ink); font: 12px system-ui, sans-serif; }
footer { margin-top: 1.6rem; color: var(--quiet); font-size: 0.9rem; }
@page { size: A4; margin: 14mm; }
@media print {
  :root { --paper: #ffffff; --ink: #000000; --quiet: #444444; --line: #bbbbbb; --shade: #ffffff; --mark: #6b3a00; }
  html { font-size: 9pt; }
  main { max-width: none; padding: 0; }
  h2 { margin-top: 0.7rem; break-after: avoid; }
  li p { display: inline; margin-left: 0.5rem; }
  dl { grid-template-columns: max-content 1fr max-content 1fr; }
  tr, figure, li { break-inside: avoid; }
}
`;

import { h } from "hastscript";
import { lexer, type Token, type Tokens } from "marked";
import type { Chapter } from "../guide.ts";
import { documentOf, type Piece } from "./document.ts";

/** The whole guide as one page, its chapters listed first. */
export const guidePage = (chapters: readonly Chapter[]): string =>
  documentOf("Limber: the guide", [
    h("h1", "Limber: the guide"),
    h("nav", { ariaLabel: "Chapters" }, [
      h(
        "ul",
        chapters.map(({ name, title }) => h("li", h("a", { href: `#${name}` }, title))),
      ),
    ]),
    ...chapters.map(({ name, text }) => h("section", { id: name }, [...blocksOf(lexer(text))])),
  ]);

/** A table is named by the heading that it stands under. */
function blocksOf(tokens: readonly Token[]): readonly Piece[] {
  let under = "";
  return tokens.flatMap((token) => {
    if (token.type === "heading") under = (token as Tokens.Heading).text;
    return token.type === "table" ? [tableOf(token as Tokens.Table, under)] : blockOf(token);
  });
}

/** A chapter's title stands one step below the title of the page. */
const heading = ({ depth, tokens }: Tokens.Heading): Piece => h(`h${Math.min(6, depth + 1)}`, tokens.flatMap(inlineOf));

function blockOf(token: Token): readonly Piece[] {
  switch (token.type) {
    case "heading":
      return [heading(token as Tokens.Heading)];
    case "paragraph":
      return [h("p", (token as Tokens.Paragraph).tokens.flatMap(inlineOf))];
    case "code":
      return [h("pre", { tabIndex: 0 }, h("code", (token as Tokens.Code).text))];
    case "list":
      return [listOf(token as Tokens.List)];
    case "space":
      return [];
    default:
      throw new Error(`Bug: the guide has a ${token.type}, which has no form on a page`);
  }
}

const listOf = ({ ordered, items }: Tokens.List): Piece =>
  h(
    ordered ? "ol" : "ul",
    items.map(({ tokens }) => h("li", tokens.flatMap(itemOf))),
  );

/** The text of an item, or a list within it. */
const itemOf = (token: Token): readonly (Piece | string)[] =>
  token.type === "text" ? ((token as Tokens.Text).tokens ?? []).flatMap(inlineOf) : blockOf(token);

const tableOf = ({ header, rows }: Tokens.Table, caption: string): Piece =>
  h("table", [
    h("caption", caption),
    h(
      "thead",
      h(
        "tr",
        header.map(({ tokens }) => h("th", { scope: "col" }, tokens.flatMap(inlineOf))),
      ),
    ),
    h("tbody", rows.map(rowOf)),
  ]);

const rowOf = ([first, ...cells]: readonly Tokens.TableCell[]): Piece =>
  h("tr", [
    h("th", { scope: "row" }, first?.tokens.flatMap(inlineOf) ?? []),
    ...cells.map(({ tokens }) => h("td", tokens.flatMap(inlineOf))),
  ]);

function inlineOf(token: Token): readonly (Piece | string)[] {
  switch (token.type) {
    case "text":
      return [(token as Tokens.Text).text];
    case "escape":
      return [(token as Tokens.Escape).text];
    case "codespan":
      return [h("code", (token as Tokens.Codespan).text)];
    case "strong":
      return [h("strong", (token as Tokens.Strong).tokens.flatMap(inlineOf))];
    case "em":
      return [h("em", (token as Tokens.Em).tokens.flatMap(inlineOf))];
    case "link":
      return [h("a", { href: inPage((token as Tokens.Link).href) }, (token as Tokens.Link).tokens.flatMap(inlineOf))];
    default:
      throw new Error(`Bug: the guide has a ${token.type} in a line, which has no form on a page`);
  }
}

/** In the repository a chapter is a file of its own. */
const inPage = (href: string): string => href.replace(/^([a-z-]+)\.md$/, "#$1");

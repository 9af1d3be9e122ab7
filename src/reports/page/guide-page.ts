import { h } from "hastscript";
import { lexer, type MarkedToken, type Token, type Tokens } from "marked";
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

/** Nothing is read but what Markdown itself has: no extension makes tokens of its own. */
const isMarkdown = (token: Token): token is MarkedToken => token.type !== "generic";

/** A table is named by the heading that it stands under. */
function blocksOf(tokens: readonly Token[]): readonly Piece[] {
  let under = "";
  return tokens.filter(isMarkdown).flatMap((token) => {
    if (token.type === "heading") under = token.text;
    return token.type === "table" ? [tableOf(token, under)] : blockOf(token);
  });
}

/** A chapter's title stands one step below the title of the page. */
const heading = ({ depth, tokens }: Tokens.Heading): Piece => h(`h${Math.min(6, depth + 1)}`, inlines(tokens));

function blockOf(token: MarkedToken): readonly Piece[] {
  switch (token.type) {
    case "heading":
      return [heading(token)];
    case "paragraph":
      return [h("p", inlines(token.tokens))];
    case "code":
      return [h("pre", { tabIndex: 0 }, h("code", token.text))];
    case "list":
      return [listOf(token)];
    case "space":
      return [];
    default:
      throw new Error(`Bug: the guide has a ${token.type}, which has no form on a page`);
  }
}

const listOf = ({ ordered, items }: Tokens.List): Piece =>
  h(
    ordered ? "ol" : "ul",
    items.map(({ tokens }) => h("li", tokens.filter(isMarkdown).flatMap(itemOf))),
  );

/** The text of an item, or a list within it. */
const itemOf = (token: MarkedToken): readonly (Piece | string)[] =>
  token.type === "text" ? inlines(token.tokens) : blockOf(token);

const tableOf = ({ header, rows }: Tokens.Table, caption: string): Piece =>
  h("table", [
    h("caption", caption),
    h(
      "thead",
      h(
        "tr",
        header.map(({ tokens }) => h("th", { scope: "col" }, inlines(tokens))),
      ),
    ),
    h("tbody", rows.map(rowOf)),
  ]);

const rowOf = ([first, ...cells]: readonly Tokens.TableCell[]): Piece =>
  h("tr", [h("th", { scope: "row" }, inlines(first?.tokens)), ...cells.map(({ tokens }) => h("td", inlines(tokens)))]);

const inlines = (tokens: readonly Token[] = []): (Piece | string)[] => tokens.filter(isMarkdown).flatMap(inlineOf);

function inlineOf(token: MarkedToken): readonly (Piece | string)[] {
  switch (token.type) {
    case "text":
      return [token.text];
    case "escape":
      return [token.text];
    case "codespan":
      return [h("code", token.text)];
    case "strong":
      return [h("strong", inlines(token.tokens))];
    case "em":
      return [h("em", inlines(token.tokens))];
    case "link":
      return [h("a", { href: inPage(token.href) }, inlines(token.tokens))];
    default:
      throw new Error(`Bug: the guide has a ${token.type} in a line, which has no form on a page`);
  }
}

/** In the repository a chapter is a file of its own. */
const inPage = (href: string): string => href.replace(/^([a-z-]+)\.md$/, "#$1");

import { h } from "hastscript";
import { lexer, type MarkedToken, type Token, type Tokens } from "marked";
import { documentOf, type Piece } from "./page/document.ts";

/** One chapter of the guide, in Markdown that begins with its title. */
export interface Chapter {
  /** What it is asked for by. */
  readonly name: string;
  readonly title: string;
  readonly text: string;
}

/** A chapter of the guide from its Markdown; the title is the first heading. */
export const chapterOf = (name: string, text: string): Chapter => ({
  name,
  title: /^# (.*)$/m.exec(text)?.[1] ?? name,
  text,
});

/** A command as its help tells it. */
export interface CommandHelp {
  readonly name: string;
  readonly help: string;
}

/** Every command with the help that the program itself prints, so that this chapter cannot age. */
export const commandsChapter = (commands: readonly CommandHelp[]): Chapter =>
  chapterOf(
    "commands",
    [
      "# Every command",
      "This chapter is what `limber COMMAND --help` prints.",
      ...commands.map(({ name, help }) => `## limber ${name}\n\n\`\`\`\n${help.trimEnd()}\n\`\`\``),
    ].join("\n\n"),
  );

/** The parts of a JSON Schema that are told of. */
interface Schema {
  readonly description?: string;
  readonly type?: string;
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly items?: Schema;
  readonly anyOf?: readonly Schema[];
  readonly oneOf?: readonly Schema[];
  readonly additionalProperties?: Schema | boolean;
}

export interface FileFormat {
  readonly title: string;
  /** In one sentence: what such a file is for. */
  readonly about: string;
  readonly schema: Schema;
}

/** Every file format with its keys, from the schemas that the program itself checks the files by. */
export const filesChapter = (formats: readonly FileFormat[]): Chapter =>
  chapterOf(
    "files",
    [
      "# Every file and its keys",
      "This chapter comes from the JSON Schemas beside the files. An editor that knows JSON Schema checks a file while you write it.",
      "Function names such as `Pan`, `Gobo1` or `ColorSub_C` are the attribute names of DIN SPEC 15800 (GDTF).",
      ...formats.map(
        ({ title, about, schema }) =>
          `## ${title}\n\n${about}\n\n| key | value | meaning |\n|---|---|---|\n${rowsOf(schema, "").join("\n")}`,
      ),
    ].join("\n\n"),
  );

/** So deep are keys told by name; what lies deeper is seen in the examples. */
const DEEPEST = 3;

function rowsOf(schema: Schema, path: string, depth = 0): readonly string[] {
  const keys = Object.entries(schema.properties ?? {});
  return keys.flatMap(([key, one]) => {
    const name = path === "" ? key : `${path}.${key}`;
    const must = schema.required?.includes(key) ? ", required" : "";
    const row = `| \`${name}\` | ${valueWords(one)}${must} | ${one.description ?? ""} |`;
    return depth + 1 >= DEEPEST ? [row] : [row, ...below(one, name, depth + 1)];
  });
}

const below = (schema: Schema, name: string, depth: number): readonly string[] => {
  if (schema.properties) return rowsOf(schema, name, depth);
  if (schema.items?.properties) return rowsOf(schema.items, `${name}[]`, depth);
  const entries = schema.additionalProperties;
  return typeof entries === "object" && entries.properties ? rowsOf(entries, `${name}.NAME`, depth) : [];
};

/** How many choices are listed; of more, the first few. */
const FEW = 8;

function valueWords(schema: Schema): string {
  if (schema.const !== undefined) return `\`${String(schema.const)}\``;
  if (schema.enum) return choices(schema.enum.map((one) => `\`${String(one)}\``));
  const either = schema.anyOf ?? schema.oneOf;
  if (either) return choices([...new Set(either.map(valueWords))]);
  if (schema.type === "array") return `list of ${schema.items ? valueWords(schema.items) : "anything"}`;
  return `${schema.type === "object" ? "keys" : (schema.type ?? "anything")}${rangeOf(schema)}`;
}

const choices = (all: readonly string[]): string =>
  all.length <= FEW ? all.join(", ") : `${all.slice(0, FEW).join(", ")} and ${all.length - FEW} more`;

function rangeOf({ minimum, maximum, exclusiveMinimum }: Schema): string {
  if (minimum !== undefined && maximum !== undefined && maximum < Number.MAX_SAFE_INTEGER)
    return `, ${minimum} to ${maximum}`;
  if (minimum !== undefined && minimum > Number.MIN_SAFE_INTEGER) return `, at least ${minimum}`;
  return exclusiveMinimum === undefined ? "" : `, above ${exclusiveMinimum}`;
}

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

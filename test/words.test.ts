import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { GLOSSARY } from "../src/domain/trade/glossary.ts";
import { stringLiterals } from "./kit/string-literals.ts";

/** Strings that keep a word which is not used any more, each with its reason. */
const ALLOWED: readonly { readonly file: RegExp; readonly text: RegExp; readonly because: string }[] = [
  {
    file: /run\/session\/answering\.ts$/,
    text: /^can't say yet$/,
    because: "written into journals: an event keeps its reading",
  },
];

const SOURCES = readdirSync("src", { recursive: true, encoding: "utf8" }).filter((name) => name.endsWith(".ts"));

/** What a user can read: words with a space between them. Ids, keys, paths and queries of a database have none, or are no words. */
const isRead = (text: string): boolean =>
  /\s/.test(text.trim()) && /[a-z]/.test(text) && !/^\s*(?:Bug: |SELECT |INSERT |UPDATE )/.test(text);

const WORDS = Object.entries(GLOSSARY).flatMap(([term, { before }]) => before.map((word) => ({ term, word })));

const found = (file: string, source: string): readonly string[] =>
  stringLiterals(source)
    .filter(({ text }) => isRead(text) && !ALLOWED.some((one) => one.file.test(file) && one.text.test(text)))
    .flatMap(({ line, text }) =>
      WORDS.filter(({ word }) => word.test(text)).map(
        ({ term, word }) => `${file}:${line}: "${text.trim()}" has ${word.source}; the word is "${term}"`,
      ),
    );

test.each(SOURCES.filter((file) => !file.endsWith("trade/glossary.ts")))(
  "%s says each thing by its one name",
  (file) => {
    expect(found(file, readFileSync(join("src", file), "utf8"))).toEqual([]);
  },
);

test("an exception that nobody needs any more is left out", () => {
  const idle = ALLOWED.filter(
    (one) =>
      !SOURCES.some(
        (file) =>
          one.file.test(file) &&
          stringLiterals(readFileSync(join("src", file), "utf8")).some(({ text }) => one.text.test(text)),
      ),
  );
  expect(idle).toEqual([]);
});

/** What opens a value in a template, written so that no string looks like a template by mistake. */
const curly = (text: string): string => text.replaceAll("@{", ["$", "{"].join(""));

test.each([
  ["a string", '"where it stands"', ["where it stands"]],
  ["an escaped quote", String.raw`'don\'t'`, [String.raw`don\'t`]],
  ["a template and one within it", curly("`a @{b ? `c @{d}` : 'e'} f`"), ["a @{", "c @{", "", "e", " f"].map(curly)],
  ["no comment", '// "x"\n/* "y" */ "z"', ["z"]],
  ["no regular expression", 'a.replace(/"[/"]/, "b") / 2', ["b"]],
  ["a division is none", 'a / b + "c" / d', ["c"]],
])("the scanner reads %s", (_, source, texts) => {
  expect(stringLiterals(source).map(({ text }) => text)).toEqual(texts);
});

test("an old word is found wherever it stands in a template", () => {
  expect(found("x.ts", curly("const a = `@{n} things; @{m} mended now`;"))).toHaveLength(1);
});

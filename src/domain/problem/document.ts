import { type Alias, type Document, isMap, isNode, isPair, isScalar, type Node, parseDocument, visit } from "yaml";
import type { z } from "zod";
import { bad, byPlace, good, type Problem, type Result, type TextPlace } from "./problem.ts";
import { wordsFor } from "./shape.ts";

export type Path = readonly PropertyKey[];

/** A data file that is valid YAML, with the way from each of its values back to the text. */
export interface DataFile {
  readonly source: string;
  readonly text: string;
  readonly value: unknown;
  /** Where a value stands; the nearest enclosing one when the value itself is missing. `key` points at the name instead. */
  place(path: Path, what?: "key" | "value"): TextPlace;
}

/** Aliases may repeat a value, not blow up: a file that unfolds past this is refused. */
const MOST_ALIASES = 50;
/** People write these files; the longest has some hundred lines. */
const MOST_CHARACTERS = 200_000;
/** Nobody reads more mistakes at once. */
const MOST_TOLD = 200;

/** Reads YAML; every syntax mistake comes back with its place, none is thrown. */
export const readDataFile = (source: string, text: string): Result<DataFile> => {
  if (text.length > MOST_CHARACTERS)
    return bad({ ...unplaced(source, `longer than ${MOST_CHARACTERS} characters`), place: START });
  const document = parseDocument(text, { logLevel: "error", prettyErrors: false, uniqueKeys: true, strict: true });
  const at = placesIn(text);
  if (document.errors.length > 0)
    return bad(
      ...document.errors
        .slice(0, MOST_TOLD)
        .map((error) => ({ ...unplaced(source, plain(error.message)), place: at(...error.pos) })),
    );
  return unfold(source, text, document, at);
};

const unfold = (
  source: string,
  text: string,
  document: Document,
  at: (start: number, end: number) => TextPlace,
): Result<DataFile> => {
  try {
    const value: unknown = document.toJS({ maxAliasCount: MOST_ALIASES });
    return good({ source, text, value, place: (path, what) => at(...rangeOf(document, path, what ?? "value")) });
  } catch (error) {
    const message = plain(error instanceof Error ? error.message : String(error));
    return bad({ ...unplaced(source, message), place: at(...aliasRange(document, message)) });
  }
};

/** Only aliases can be wrong once the syntax is right: the one that leads nowhere, else the first of too many. */
const aliasRange = (document: Document, message: string): [number, number] => {
  const found: Alias[] = [];
  visit(document, { Alias: (_, alias) => void found.push(alias) });
  const [start = 0, end = 1] = (found.find(({ source }) => message.endsWith(`: ${source}`)) ?? found[0])?.range ?? [];
  return [start, end];
};

/** Checks a part of a data file against its schema: the value, or every mistake with its place, first in the file first. */
export const checkShape = <T>(file: DataFile, schema: z.ZodType<T>, path: Path = []): Result<T> => {
  const parsed = schema.safeParse(valueAt(file, path), { reportInput: true });
  if (parsed.success) return good(parsed.data);
  const mistakes = parsed.error.issues.slice(0, MOST_TOLD).flatMap((issue) => wordsFor(issue, keysOf(schema)));
  return bad(...byPlace(mistakes.map((words) => problemAt(file, [...path, ...words.path], words))));
};

/** The keys that the top level of a schema knows, for "did you mean". */
const keysOf = (schema: z.ZodType): readonly string[] =>
  "shape" in schema && typeof schema.shape === "object" ? Object.keys(schema.shape ?? {}) : [];

/** A mistake at a value of a data file. */
export const problemAt = (
  file: DataFile,
  path: Path,
  words: { readonly message: string; readonly hint?: string | undefined; readonly at?: "key" | "value" | undefined },
): Problem => ({ source: file.source, place: file.place(path, words.at), message: words.message, hint: words.hint });

/** What stands at a path of a data file, as it was written; undefined where nothing does. */
export const valueAt = (file: DataFile, path: Path): unknown => path.reduce(inside, file.value);

const inside = (value: unknown, key: PropertyKey): unknown =>
  typeof value === "object" && value !== null ? Reflect.get(value, key) : undefined;

const START: TextPlace = { line: 1, column: 1, text: "", length: 1 };
const unplaced = (source: string, message: string): Problem => ({ source, place: undefined, message, hint: undefined });
const plain = (message: string): string => message.replace(/\s+/g, " ").trim();

const rangeOf = (document: Document, path: Path, what: "key" | "value"): [number, number] => {
  for (let length = path.length; length > 0; length--) {
    const node = nodeAt(document, path.slice(0, length), length === path.length ? what : "key");
    if (node?.range) return [node.range[0], node.range[1]];
  }
  return [0, 1];
};

const nodeAt = (document: Document, path: Path, what: "key" | "value"): Node | undefined => {
  const parent: unknown = path.length === 1 ? document.contents : document.getIn(path.slice(0, -1), true);
  const last = path.at(-1);
  if (what === "key" && isMap(parent)) {
    const pair = parent.items.find(
      (item) => isPair(item) && isScalar(item.key) && String(item.key.value) === String(last),
    );
    if (pair && isScalar(pair.key)) return pair.key;
  }
  const found = document.getIn(path, true);
  return isNode(found) ? found : undefined;
};

/** From a stretch of a text to where it lies: its line, and what of the stretch is on that line, at least one character. */
export const placesIn = (text: string): ((start: number, end: number) => TextPlace) => {
  const starts = lineStarts(text);
  return (start, end) => {
    const at = Math.max(0, Math.min(start, text.length));
    const line = lineOf(starts, at);
    const begin = starts[line - 1] ?? 0;
    const whole = text.slice(begin, (starts[line] ?? text.length + 1) - 1).replace(/\r$/, "");
    const column = Math.min(at - begin, whole.length) + 1;
    return { line, column, text: whole, length: Math.max(1, Math.min(end - at, whole.length - column + 1)) };
  };
};

const lineStarts = (text: string): readonly number[] => {
  const starts = [0];
  for (let at = text.indexOf("\n"); at >= 0; at = text.indexOf("\n", at + 1)) starts.push(at + 1);
  return starts;
};

/** The last line that begins at or before the index, counted from 1. */
const lineOf = (starts: readonly number[], at: number): number => {
  let [low, high] = [0, starts.length];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if ((starts[middle] ?? 0) <= at) low = middle;
    else high = middle;
  }
  return low + 1;
};

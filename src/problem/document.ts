import { type Document, isMap, isPair, isScalar, LineCounter, type Node, parseDocument } from "yaml";
import type { z } from "zod";
import { bad, byPlace, good, type Place, type Problem, type Result } from "./problem.ts";
import { wordsFor } from "./shape.ts";

export type Path = readonly PropertyKey[];

/** A data file that is valid YAML, with the way from each of its values back to the text. */
export interface DataFile {
  readonly source: string;
  readonly text: string;
  readonly value: unknown;
  /** Where a value stands; the nearest enclosing one when the value itself is missing. `key` points at the name instead. */
  place(path: Path, what?: "key" | "value"): Place;
}

/** Aliases may repeat a value, not blow up: a file that unfolds past this is refused. */
const MOST_ALIASES = 50;
const MOST_CHARACTERS = 1_000_000;

/** Reads YAML; every syntax mistake comes back with its place, none is thrown. */
export const readDataFile = (source: string, text: string): Result<DataFile> => {
  if (text.length > MOST_CHARACTERS) return bad(unplaced(source, `larger than ${MOST_CHARACTERS} characters`));
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false, uniqueKeys: true, strict: true });
  const at = (start: number, end: number): Place => placeIn(text, lines, start, end);
  if (document.errors.length > 0)
    return bad(
      ...document.errors.map((error) => ({ ...unplaced(source, plain(error.message)), place: at(...error.pos) })),
    );
  return unfold(source, text, document, at);
};

const unfold = (
  source: string,
  text: string,
  document: Document,
  at: (start: number, end: number) => Place,
): Result<DataFile> => {
  try {
    const value: unknown = document.toJS({ maxAliasCount: MOST_ALIASES });
    return good({ source, text, value, place: (path, what) => at(...rangeOf(document, path, what ?? "value")) });
  } catch (error) {
    return bad(unplaced(source, plain(error instanceof Error ? error.message : String(error))));
  }
};

/** Checks a part of a data file against its schema: the value, or every mistake with its place, first in the file first. */
export const checkShape = <T>(file: DataFile, schema: z.ZodType<T>, path: Path = []): Result<T> => {
  const parsed = schema.safeParse(path.reduce(inside, file.value), { reportInput: true });
  if (parsed.success) return good(parsed.data);
  const mistakes = parsed.error.issues.flatMap((issue) => wordsFor(issue, keysOf(schema)));
  return bad(...byPlace(mistakes.map((words) => problemAt(file, [...path, ...words.path], words))));
};

/** The keys that the top level of a schema knows, for "did you mean". */
const keysOf = (schema: z.ZodType): readonly string[] => ("shape" in schema ? Object.keys(schema.shape as object) : []);

/** A mistake at a value of a data file. */
export const problemAt = (
  file: DataFile,
  path: Path,
  words: { readonly message: string; readonly hint?: string | undefined; readonly at?: "key" | "value" | undefined },
): Problem => ({ source: file.source, place: file.place(path, words.at), message: words.message, hint: words.hint });

const inside = (value: unknown, key: PropertyKey): unknown =>
  typeof value === "object" && value !== null ? (value as Record<PropertyKey, unknown>)[key] : undefined;

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
  return document.getIn(path, true) as Node | undefined;
};

const placeIn = (text: string, lines: LineCounter, start: number, end: number): Place => {
  const { line, col } = lines.linePos(Math.min(start, text.length));
  const whole = text.split(/\r?\n/)[line - 1] ?? "";
  const column = Math.max(1, col);
  return {
    line: Math.max(1, line),
    column,
    text: whole,
    length: Math.max(1, Math.min(end - start, whole.length - column + 1)),
  };
};

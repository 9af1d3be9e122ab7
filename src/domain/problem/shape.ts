import type { z } from "zod";
import { hintFor } from "./problem.ts";

type Issue = z.core.$ZodIssue;

/** A schema mistake in words for the person who wrote the file. */
export interface ShapeWords {
  readonly path: readonly PropertyKey[];
  readonly message: string;
  readonly hint?: string | undefined;
  readonly at?: "key" | "value";
}

/**
 * Says in words what one schema issue means; one issue may be several mistakes, since every unknown key is one of its own.
 * `topKeys` are the keys that the file may have at its top, for a "did you mean".
 */
export const wordsFor = (issue: Issue, topKeys: readonly string[]): readonly ShapeWords[] => {
  const { path } = issue;
  switch (issue.code) {
    case "unrecognized_keys":
      return issue.keys.map((key) => ({
        path: [...path, key],
        message: `"${key}" does not belong here`,
        hint: hintFor(key, path.length === 0 ? topKeys : []),
        at: "key",
      }));
    case "invalid_value":
      return [
        {
          path,
          message: issue.input === undefined ? missing(path) : "not one of the known words",
          hint: knownWords(issue),
        },
      ];
    case "invalid_type":
      return [
        {
          path,
          message: issue.input === undefined ? missing(path) : `must be ${KINDS[issue.expected] ?? issue.expected}`,
          hint: issue.expected === "string" && typeof issue.input === "number" ? "put it in quotes" : undefined,
        },
      ];
    case "invalid_key":
      return [{ path, message: "not a known name", hint: keyHint(issue), at: "key" }];
    case "too_small":
      return [
        {
          path,
          message: `${measure(issue)} must be ${issue.inclusive === false ? "more than" : "at least"} ${issue.minimum}`,
        },
      ];
    case "too_big":
      return [
        {
          path,
          message: `${measure(issue)} must be ${issue.inclusive === false ? "less than" : "at most"} ${issue.maximum}`,
        },
      ];
    case "invalid_union":
      return unionWords(issue);
    default:
      return [{ path, message: issue.message }];
  }
};

/**
 * Of several allowed shapes, the one whose kind of value was written says best what is wrong: a list with one wrong name
 * is wrong at that name, and not as a whole.
 */
const unionWords = (issue: Extract<Issue, { code: "invalid_union" }>): readonly ShapeWords[] => {
  const ofThisKind = issue.errors.filter((branch) => branch.every(({ code }) => code !== "invalid_type"));
  const inside = ofThisKind.find((branch) => branch.every(({ path }) => path.length > 0));
  const best = inside ?? ofThisKind[0] ?? issue.errors[0] ?? [];
  const words = best.flatMap((inner) => wordsFor(inner, []));
  return words.map((one) => ({ ...one, path: [...issue.path, ...one.path] }));
};

const KINDS: Readonly<Record<string, string>> = {
  string: "text",
  number: "a number",
  int: "a whole number",
  boolean: "true or false",
  array: "a list",
  object: "a group of keys",
  record: "a group of keys",
};

const named = (path: readonly PropertyKey[]): string => {
  const last = path.at(-1);
  return last === undefined ? "the file" : typeof last === "number" ? `entry ${last + 1}` : `"${String(last)}"`;
};

const measure = ({ origin }: { readonly origin: string }): string =>
  origin === "string" || origin === "array" ? "its length" : "it";

const missing = (path: readonly PropertyKey[]): string => `${named(path)} is missing`;

const knownWords = (issue: Extract<Issue, { code: "invalid_value" }>): string | undefined => {
  const written = typeof issue.input === "string" ? issue.input : "";
  return hintFor(written, issue.values.map(String));
};

const keyHint = (issue: Extract<Issue, { code: "invalid_key" }>): string | undefined => {
  const values = issue.issues.flatMap((inner) => (inner.code === "invalid_value" ? inner.values.map(String) : []));
  return hintFor(String(issue.path.at(-1) ?? ""), values);
};

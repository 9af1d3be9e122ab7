import { entriesOf } from "../../domain/keys.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { FunctionFile, ProfileFile } from "./schema.ts";

/** What stands in a profile for people only: lines before everything, and a few words after a function. */
export interface Remarks {
  /** Where editors find the schema, from the file's own folder. */
  readonly schema: string;
  readonly about: readonly string[];
  readonly functions: Readonly<Partial<Record<FunctionId, string>>>;
  /** Behind what stands before the functions. */
  readonly frame?: Readonly<Partial<Record<keyof ProfileFile, string>>>;
}

/** A profile as text, as people write it: the line that tells editors the schema, comments, a function to a line where it is short. */
export const profileText = (
  file: ProfileFile,
  { schema, about, functions: remarks, frame: behind }: Remarks,
): string => {
  const { functions, rest, held, allow, ...frame } = file;
  return [
    `# yaml-language-server: $schema=${schema}`,
    ...about.map((line) => `# ${line}`),
    ...entriesOf<keyof typeof frame, unknown>(frame).flatMap(([key, value]) =>
      value === undefined ? [] : [`${key}: ${inline(value)}${commentOf(behind?.[key])}`],
    ),
    "functions:",
    ...entriesOf(functions).flatMap(([id, spec]) => lines(id, spec, remarks[id])),
    `rest: ${inline(rest)}`,
    ...(held === undefined ? [] : ["held:", ...held.map((entry) => `  - ${inline(entry)}`)]),
    ...(allow === undefined ? [] : [`allow: ${inline(allow)}`]),
    "",
  ].join("\n");
};

/** One line, or with a list in it one line for each entry of the list. */
const lines = (id: FunctionId, spec: FunctionFile, remark: string | undefined): readonly string[] => {
  const comment = commentOf(remark);
  const lists = Object.entries(spec).filter(isList);
  if (lists.length === 0) return [`  ${`${id}:`.padEnd(WIDEST)} ${inline(spec)}${comment}`];
  const others = Object.entries(spec).filter(([key]) => !LISTS.includes(key));
  return [
    `  ${id}:${comment}`,
    ...others.map(([key, value]) => `    ${key}: ${inline(value)}`),
    ...lists.flatMap(([key, entries]) => [`    ${key}:`, ...entries.map((entry) => `      - ${inline(entry)}`)]),
  ];
};

const commentOf = (remark: string | undefined): string => (remark === undefined ? "" : `   # ${remark}`);

const isList = (entry: [string, unknown]): entry is [string, readonly unknown[]] => LISTS.includes(entry[0]);
const LISTS: readonly string[] = ["bands", "positions", "commands"];
const WIDEST = "ColorSub_C:".length;

/** A value on one line. */
const inline = (value: unknown): string => {
  if (Array.isArray(value)) return `[${value.map(inline).join(", ")}]`;
  if (typeof value !== "object" || value === null) return typeof value === "string" ? word(value) : String(value);
  const pairs = Object.entries(value).filter(([, inner]) => inner !== undefined);
  return pairs.length === 0 ? "{}" : `{ ${pairs.map(([key, inner]) => `${key}: ${inline(inner)}`).join(", ")} }`;
};

/** Quoted unless it can be nothing but text in YAML 1.1 and 1.2. */
const word = (text: string): string =>
  /^[A-Za-z][\w /-]*\w$/.test(text) && !/^(?:true|false|null|yes|no|on|off)$/i.test(text) ? text : JSON.stringify(text);

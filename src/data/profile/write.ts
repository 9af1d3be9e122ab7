import { entriesOf } from "../../domain/keys.ts";
import { bad, good, type Problem, type Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import { lint } from "./lint/lint.ts";
import { readProfile } from "./parse.ts";
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

/** The text of a profile that was made from something a maker says, and what the profile check would have doubted in it. */
export interface MadeProfile {
  readonly text: string;
  readonly doubts: readonly Problem[];
}

/**
 * Writes a profile that nobody has looked at yet. It is read back as any other before it is handed out, and what the check
 * would doubt is allowed with the reason that the maker says it so: what Limber writes, Limber takes. Where reading it back
 * finds a mistake, the result is that mistake.
 *
 * @param whose where the numbers come from, as it stands in the exceptions: "From the maker's file"
 */
export const madeProfile = (
  source: string,
  file: ProfileFile,
  remarks: Remarks,
  whose: string,
): Result<MadeProfile> => {
  const parsed = readProfile(source, profileText(file, remarks));
  if (!parsed.ok) return bad(...parsed.problems);
  const doubts = lint(parsed.value);
  const allow = Object.fromEntries(
    doubts.map(({ rule, problem }) => [rule, safeText(`${whose}, not checked yet: ${problem.message}`)]),
  );
  return good({
    text: profileText(doubts.length > 0 ? { ...file, allow } : file, remarks),
    doubts: doubts.map(({ problem }) => problem),
  });
};

/** "Spot 12 (8 bit)" becomes "spot-12-8-bit": small letters, digits and hyphens. */
export const slug = (text: string): string =>
  text
    .normalize("NFKD")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "") || "fixture";

import { closest, distance } from "fastest-levenshtein";
import { safeText } from "./shown-text.ts";

/** Something wrong in what a person wrote, said so that it can be put right: where, what, and what would be right. */
export interface Problem {
  /** File name as the person knows it, or the name of an option. */
  readonly source: string;
  readonly place: TextPlace | undefined;
  readonly message: string;
  /** What to write instead, when there is a good guess. */
  readonly hint: string | undefined;
}

/** A stretch of text in a file; line and column count from 1. */
export interface TextPlace {
  readonly line: number;
  readonly column: number;
  /** The whole line as written. */
  readonly text: string;
  /** How many characters the mistake covers, at least 1, never past the end of the line. */
  readonly length: number;
}

/** Either a value or everything that is wrong with it. */
export type Result<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** A result that is there, with no problem. */
export const good = <T>(value: T): Result<T> => ({ ok: true, value });

/**
 * A result that is not there, with everything that stood in its way.
 *
 * @param problems - at least one; the first is told first
 */
export const bad = (...problems: readonly Problem[]): Result<never> => ({ ok: false, problems });

/**
 * Something wrong with a file or a name as a whole, at no line of it.
 *
 * @param source - the file or name, as whoever gave it wrote it
 * @param message - what is wrong, without the source
 * @param hint - what to type instead, where that is known
 */
export const problem = (source: string, message: string, hint?: string): Problem => ({
  source,
  place: undefined,
  message,
  hint,
});

/** The first mistake in the file comes first; mistakes without a place come last. */
export const byPlace = (problems: readonly Problem[]): readonly Problem[] =>
  [...problems].sort((a, b) => order(a) - order(b));

const order = ({ place }: Problem): number => (place ? place.line * 10_000 + place.column : Number.MAX_SAFE_INTEGER);

/** Problems as a person reads them: place, what is wrong, the line with the mistake underlined, what would be right. */
export const tellProblems = (problems: readonly Problem[]): string => problems.map(tellProblem).join("\n\n");

const tellProblem = ({ source, place, message, hint }: Problem): string => {
  const right = hint === undefined ? "" : ` (${safeText(hint)})`;
  const head = `${safeText(source)}${place ? `:${place.line}:${place.column}` : ""}: ${safeText(message)}${right}`;
  if (!place) return head;
  const start = place.column - 1;
  const end = start + Math.min(place.length, LONGEST);
  const before = safeText(`${start > ASIDE ? "..." : ""}${place.text.slice(Math.max(0, start - ASIDE), start)}`);
  const marked = safeText(place.text.slice(start, end));
  const after = safeText(`${place.text.slice(end, end + ASIDE)}${place.text.length > end + ASIDE ? "..." : ""}`);
  return `${head}\n  ${before}${marked}${after}\n  ${" ".repeat(before.length)}${"^".repeat(Math.max(1, marked.length))}`;
};

/** How many characters of a very long line, such as XML without breaks, are shown around the mistake. */
const LONGEST = 200;
const ASIDE = 120;

/** Something in a data file that can be used and would yet mislead, with its place, the rule it breaks and why that matters. */
export interface Doubt {
  readonly rule: string;
  readonly why: string;
  readonly problem: Problem;
}

/** Doubts as a person reads them: the place, what is odd and what to write instead, the line, why it matters, the rule's name. */
export const tellDoubts = (doubts: readonly Doubt[]): string =>
  doubts.map(({ problem, why, rule }) => `${tellProblems([problem])}\n  ${why} [${rule}]`).join("\n\n");

/** "Did you mean ..." for a name that is not there; nothing when no known name is close enough to be worth saying. */
export const nearest = (name: string, known: readonly string[]): string | undefined => {
  if (known.length === 0) return undefined;
  const guess = closest(
    name.toLowerCase(),
    known.map((one) => one.toLowerCase()),
  );
  const original = known.find((one) => one.toLowerCase() === guess);
  return original !== undefined && distance(name.toLowerCase(), guess) <= Math.max(2, name.length / 3)
    ? original
    : undefined;
};

/**
 * The hint for an unknown name: the nearest known one, or all of them where there are at most twelve; undefined where no
 * name is near and the list is too long to be told.
 */
export const hintFor = (name: string, known: readonly string[]): string | undefined => {
  const guess = nearest(name, known);
  if (guess !== undefined) return `did you mean "${guess}"?`;
  return known.length > 0 && known.length <= 12 ? `known: ${known.join(", ")}` : undefined;
};

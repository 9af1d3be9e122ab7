import { bad, good, problem, type Result } from "../../../domain/problem/problem.ts";
import { type FunctionId, functionWords } from "../../../domain/trade/functions.ts";
import type { FunctionFile, ProfileFile } from "../schema.ts";

/** A question about a chart, with what will be taken when ENTER alone is pressed. */
export interface Question<T = unknown> {
  readonly words: string;
  /** Undefined: there is no guess, something must be said. */
  readonly guess: string | undefined;
  /** What an answer means; "" takes the guess. */
  readonly read: (text: string) => Result<T>;
}

/** A question with what stands before it is answered. */
export interface Asked {
  readonly question: Question;
  readonly draft: Draft;
}

/** A conversation that asks, is told, and ends in a value. Played again with the same answers it asks the same. */
export type Asking<T> = Generator<Asked, T, string>;

/**
 * Asks one question and gives what its answer means. Whoever plays the conversation
 * hands in only what the question can read.
 */
export function* ask<T>(draft: Draft, question: Question<T>): Asking<T> {
  const read = question.read(yield { question, draft });
  if (!read.ok) throw new Error(`Bug: an answer to "${question.words}" that cannot be read was let through`);
  return read.value;
}

/** What people type, as values; "" stands for the guess. */
type Reader<T> = (text: string) => Result<T>;

/** A reader that takes ENTER alone for `guess`, as if it had been typed. Without a guess it reads as `read` does. */
export const orGuess =
  <T>(guess: string | undefined, read: Reader<T>): Reader<T> =>
  (text) =>
    text !== "" ? read(text) : guess === undefined ? not("please answer") : read(guess);

/** An answer that cannot be taken: what is wrong with it, and what to type instead where that is known. */
export const not = (message: string, hint?: string): Result<never> => bad(problem("answer", message, hint));

/**
 * A reader of a number from `least` to `most`, both included and in the unit of the
 * question; the decimal sign may be a comma.
 */
export const numberFrom =
  (least: number, most: number): Reader<number> =>
  (text) => {
    const value = /^[+-]?\d*[.,]?\d+$/.test(text) ? Number(text.replace(",", ".")) : Number.NaN;
    return value >= least && value <= most ? good(value) : not(`"${text}" is not a number from ${least} to ${most}`);
  };

/** A reader of a whole number from `least` to `most`, both included. */
export const wholeFrom =
  (least: number, most: number): Reader<number> =>
  (text) => {
    const value = numberFrom(least, most)(text);
    return value.ok && Number.isInteger(value.value)
      ? value
      : not(`"${text}" is not a whole number from ${least} to ${most}`);
  };

/**
 * Several numbers in the unit of the question, with blanks, commas or "to" between them; undefined where there is none
 * or where one of the words is no number.
 */
export const numbersIn = (text: string): readonly number[] | undefined => {
  const parts = text.split(/\s*(?:;|,\s|\bto\b|\s)\s*/).filter((part) => part !== "");
  const values = parts.map((part) => Number(part.replace(",", ".")));
  return values.length === 0 || values.some(Number.isNaN) ? undefined : values;
};

/** A reader of one of a few words, or of the beginning of one. */
export const oneOf =
  <W extends string>(words: readonly W[]): Reader<W> =>
  (text) => {
    const fitting = words.filter((word) => word.startsWith(text.toLowerCase()));
    const [only] = fitting;
    return only !== undefined && (fitting.length === 1 || only === text)
      ? good(only)
      : not(`"${text}" is not one of these`, words.join(", "));
  };

/** A reader that takes anything, on one line. */
export const anyWords: Reader<string> = (text) => good(text.replaceAll(/\p{C}/gu, " ").trim());

/** A profile as far as it has been told. */
export interface Draft {
  readonly frame: Partial<Omit<ProfileFile, "functions" | "rest" | "held" | "allow">>;
  /** In the order of the chart. */
  readonly functions: readonly (readonly [FunctionId, FunctionFile])[];
  /** Functions whose times nobody knew. */
  readonly guessed: readonly FunctionId[];
  /** Slots that are no function of Limber's: what the chart calls them, and the level that they want meanwhile. */
  readonly others: readonly { readonly slot: number; readonly what: string; readonly level: number }[];
}

export const EMPTY_DRAFT: Draft = { frame: {}, functions: [], guessed: [], others: [] };

/** What was told of a function so far; undefined where nothing was. */
export const specIn = ({ functions }: Draft, id: FunctionId): FunctionFile | undefined =>
  functions.find(([known]) => known === id)?.[1];

/** The draft with this function in it, at the end; what it said of the function before is dropped. */
export const withFunction = (draft: Draft, id: FunctionId, spec: FunctionFile): Draft => ({
  ...draft,
  functions: [...draft.functions.filter(([known]) => known !== id), [id, spec]],
});

/** The draft with `slot` (1 to 512) as one more fine slot of a function that is already there. */
export const withFine = (draft: Draft, id: FunctionId, slot: number): Draft => ({
  ...draft,
  functions: draft.functions.map((one) => (one[0] === id ? [id, { ...one[1], slots: [...one[1].slots, slot] }] : one)),
});

/** What has been told so far: what it is, and its slots. */
export const standing = (draft: Draft): readonly string[] => {
  const { title, fixture, profile } = draft.frame;
  const head = title ?? fixture ?? profile;
  return [...(head === undefined ? [] : [head]), ...slotRows(draft)];
};

/** A line for each slot or run of slots. */
export const slotRows = ({ functions, others }: Draft): readonly string[] =>
  [
    ...functions.map(([id, spec]) => ({
      slot: spec.slots[0] ?? 0,
      line: row(spec.slots, `${functionWords(id)}, ${rangeOf(spec)}`),
    })),
    ...others.map(({ slot, what, level }) => ({ slot, line: row([slot], `held at ${level}: ${what}`) })),
  ]
    .sort((a, b) => a.slot - b.slot)
    .map(({ line }) => line);

const row = (slots: readonly number[], words: string): string => `${slots.join("+").padStart(9)}  ${words}`;

const rangeOf = (spec: FunctionFile): string => {
  if ("commands" in spec) return spec.commands.map(({ is, at }) => `${is} at ${at}`).join(", ");
  if ("positions" in spec) return spec.positions.map(({ at, is }) => `${at} ${is}`).join(", ");
  if ("bands" in spec) return spec.bands.map(({ from, to, is }) => `${from}-${to} ${is}`).join(", ");
  return "from_deg" in spec
    ? `${spec.from_deg} to ${spec.to_deg} degrees in ${spec.full_travel_s} s`
    : `${spec.from_pct} to ${spec.to_pct} % in ${spec.full_travel_s} s`;
};

import { bad, good, problem, type Result } from "../../../domain/problem/problem.ts";
import type { Draft } from "./draft.ts";

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

import { bad, good, problem, type Result } from "../../../domain/problem/problem.ts";

/** What people type, as values; "" stands for the guess. */
export type Reader<T> = (text: string) => Result<T>;

/** ENTER alone is the guess, as if it had been typed. */
export const orGuess =
  <T>(guess: string | undefined, read: Reader<T>): Reader<T> =>
  (text) =>
    text !== "" ? read(text) : guess === undefined ? not("please answer") : read(guess);

export const not = (message: string, hint?: string): Result<never> => bad(problem("answer", message, hint));

/** A number between two others; the decimal sign may be a comma. */
export const numberFrom =
  (least: number, most: number): Reader<number> =>
  (text) => {
    const value = /^[+-]?\d*[.,]?\d+$/.test(text) ? Number(text.replace(",", ".")) : Number.NaN;
    return value >= least && value <= most ? good(value) : not(`"${text}" is not a number from ${least} to ${most}`);
  };

export const wholeFrom =
  (least: number, most: number): Reader<number> =>
  (text) => {
    const value = numberFrom(least, most)(text);
    return value.ok && Number.isInteger(value.value)
      ? value
      : not(`"${text}" is not a whole number from ${least} to ${most}`);
  };

/** Several numbers, with blanks, commas or "to" between them. */
export const numbersIn = (text: string): readonly number[] | undefined => {
  const parts = text.split(/\s*(?:;|,\s|\bto\b|\s)\s*/).filter((part) => part !== "");
  const values = parts.map((part) => Number(part.replace(",", ".")));
  return values.length === 0 || values.some(Number.isNaN) ? undefined : values;
};

/** One of a few words, or the beginning of one. */
export const oneOf =
  <W extends string>(words: readonly W[]): Reader<W> =>
  (text) => {
    const fitting = words.filter((word) => word.startsWith(text.toLowerCase()));
    const [only] = fitting;
    return only !== undefined && (fitting.length === 1 || only === text)
      ? good(only)
      : not(`"${text}" is not one of these`, words.join(", "));
  };

/** Anything at all, on one line. */
export const anyWords: Reader<string> = (text) => good(text.replaceAll(/\p{C}/gu, " ").trim());

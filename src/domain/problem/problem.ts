/** Something wrong in what a person wrote, said so that it can be mended: where, what, and what would be right. */
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

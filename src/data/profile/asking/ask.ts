import type { Result } from "../../../domain/problem/problem.ts";
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

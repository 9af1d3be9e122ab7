/**
 * Whether a key may answer what is shown: an answer is meant by somebody who has seen the question. Pure; times are
 * milliseconds of whoever reads the keys, on a clock that never runs backwards. Every door that takes answers from people
 * keeps one of these: tell it each time the page is shown (`shownAt`), and ask it about each key (`heard`).
 */
export interface Attention {
  /** What is asked; undefined while nothing is. */
  readonly question: string | undefined;
  /** Since when this question has been shown without a break. */
  readonly since: number;
  /** When it was last shown: a program that stood still meanwhile has shown nothing new, and the keys of that time came blind. */
  readonly last: number;
  /** The key that came last, and when. */
  readonly key: { readonly name: string; readonly at: number } | undefined;
}

/** What became of a key: only a fresh one answers. */
export type Freshness = "fresh" | "too soon" | "still held";

/** How long a question is shown before a key answers it: nobody reads and decides in less (a simple reaction alone takes about 200 ms; judgement). */
export const READ_MS = 400;

/** The same key again within this time is one that is held down: keyboards wait up to a second before they repeat (from memory). */
export const HELD_MS = 1000;

export const NOTHING_SHOWN: Attention = { question: undefined, since: 0, last: 0, key: undefined };

/**
 * Notes that the page with this question is on the screen; call it with every drawing, at least every 200 ms. `at` is now,
 * in milliseconds by the clock of the keys.
 */
export const shownAt = (before: Attention, question: string | undefined, at: number): Attention => {
  const same = question === before.question && at - before.last < READ_MS;
  return { ...before, question, since: same ? before.since : at, last: at };
};

/**
 * Whether a key that comes now answers; pages show what to answer from then on. `at` is now, in
 * milliseconds by the clock of the keys.
 */
export const isListening = ({ question, since }: Attention, at: number): boolean =>
  question !== undefined && at - since >= READ_MS;

/**
 * What becomes of a key: a held key counts once, and never for two questions. `at` is when it came, in
 * milliseconds by the clock of the keys.
 */
export const heard = (before: Attention, name: string, at: number): readonly [Attention, Freshness] => {
  const { key } = before;
  const after: Attention = { ...before, key: { name, at } };
  if (key?.name === name && at - key.at < HELD_MS) return [after, "still held"];
  return [after, isListening(before, at) ? "fresh" : "too soon"];
};

import type { Buttons } from "../data/bench/bench.ts";

/** What can be asked for by a letter between the steps. */
export const ACTIONS = [
  "good",
  "failed",
  "unsure",
  "slower",
  "back",
  "note",
  "undo",
  "away",
  "freeze",
  "person",
  "absent",
  "return",
] as const;
export type Action = (typeof ACTIONS)[number];

/** Which key does what on this bench: its three buttons, and a letter for everything that waits until a step is over. */
export interface KeyPlan extends Buttons {
  readonly letters: Readonly<Record<Action, string>>;
}

/** The letter that one expects, and what else will do when a button of the bench has it. */
const LETTERS: Readonly<Record<Action, string>> = {
  good: "gkz",
  failed: "fez",
  unsure: "xqj",
  slower: "lrz",
  back: "bpj",
  note: "nmj",
  undo: "uyz",
  away: "wvq",
  freeze: "hyt",
  person: "ict",
  absent: "dje",
  return: "rom",
};

export const keyPlan = (buttons: Buttons): KeyPlan => {
  const taken = new Set([buttons.press, buttons.again, buttons.stop].flat().map((key) => key.toLowerCase()));
  const letters = Object.fromEntries(ACTIONS.map((action) => [action, take(taken, LETTERS[action])]));
  return { ...buttons, letters: letters as KeyPlan["letters"] };
};

const take = (taken: Set<string>, candidates: string): string => {
  const letter = [...candidates, ..."abcdefghijklmnopqrstuvwxyz"].find((one) => !taken.has(one)) ?? "";
  taken.add(letter);
  return letter;
};

/** A key as it is called: "SPACE", "PAGE DOWN", "A". */
export const keyWords = (key: string): string => KEYS[key] ?? key.toUpperCase();
const KEYS: Readonly<Record<string, string>> = { pagedown: "PAGE DOWN", pageup: "PAGE UP" };

/** "SPACE or PAGE DOWN". */
export const anyOf = (keys: readonly string[]): string => keys.map(keyWords).join(" or ");

/** Capital letters are the same keys: shift and a stuck caps lock change nothing. */
export const isKey = (keys: readonly string[], key: string): boolean =>
  keys.some((one) => one.toLowerCase() === key.toLowerCase());

export const actionOf = (plan: KeyPlan, key: string): Action | undefined =>
  ACTIONS.find((action) => plan.letters[action] === key.toLowerCase());

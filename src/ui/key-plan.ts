import type { Buttons } from "../data/bench/bench.ts";
import { keysOf, recordFrom } from "../domain/keys.ts";
import type { GuardedId } from "../run/batch/guarded.ts";

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

/** Which key does what on this bench: its three buttons, a letter for everything that waits until a step is over, and one of its own for every guarded page. */
export interface KeyPlan extends Buttons {
  readonly letters: Readonly<Record<Action, string>>;
  readonly own: Readonly<Record<GuardedId, string>>;
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

/** The letter of each guarded page, and what else will do. Points that follow one another have different ones. */
const OWN: Readonly<Record<GuardedId, string>> = {
  "before-moving": "cky",
  "mains-on": "mpy",
  "go-on": "yojk",
  "line-back": "ckyo",
  "other-interface": "xjhz",
  "set-right": "yojk",
  "play-again": "yojk",
  "one-by-one": "yojk",
  "own-address": "yojk",
  unplugged: "pvk",
  still: "tqz",
  "area-clear": "cky",
  isolated: "oqz",
  "stored-charge": "vqz",
  cool: "kjt",
  "cover-removed": "rqz",
  "nothing-loose": "ltz",
  "covers-on": "bqj",
};

/** Gives every action a letter that none of the bench's buttons has. */
export const keyPlan = (buttons: Buttons): KeyPlan => {
  const taken = new Set([buttons.press, buttons.again, buttons.stop].flat().map((key) => key.toLowerCase()));
  const onEveryPage = new Set(taken);
  const letters = recordFrom(ACTIONS.map((action) => [action, take(taken, LETTERS[action])] as const));
  for (const action of BESIDE_GUARDED) onEveryPage.add(letters[action]);
  const own = keysOf(OWN).map((id) => [id, take(new Set(onEveryPage), OWN[id])] as const);
  return { ...buttons, letters, own: recordFrom(own) };
};

/** What guarded pages offer besides their answer. */
const BESIDE_GUARDED: readonly Action[] = ["person", "note", "undo", "away", "absent"];

const take = (taken: Set<string>, candidates: string): string => {
  const letter = [...candidates, ..."abcdefghijklmnopqrstuvwxyz"].find((one) => !taken.has(one)) ?? "";
  taken.add(letter);
  return letter;
};

/** A key as it is called: "SPACE", "PAGE DOWN", "A". */
export const keyWords = (key: string): string => KEYS[key] ?? key.toUpperCase();
const KEYS: Readonly<Record<string, string>> = { pagedown: "PAGE DOWN", pageup: "PAGE UP" };

/** Several keys that do the same, in words: "SPACE or PAGE DOWN". */
export const anyOf = (keys: readonly string[]): string => keys.map(keyWords).join(" or ");

/** Whether a key is one of these. Capital letters are the same keys: shift and a stuck caps lock change nothing. */
export const isKey = (keys: readonly string[], key: string): boolean =>
  keys.some((one) => one.toLowerCase() === key.toLowerCase());

/** Whether a key is the letter of the guarded page that lies open. */
export const isOwn = (plan: KeyPlan, guarded: GuardedId | undefined, key: string): boolean =>
  guarded !== undefined && plan.own[guarded] === key.toLowerCase();

/** The action that a letter stands for; undefined where it stands for none. */
export const actionOf = (plan: KeyPlan, key: string): Action | undefined =>
  ACTIONS.find((action) => plan.letters[action] === key.toLowerCase());

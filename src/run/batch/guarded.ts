import type { HoldPointId } from "../../domain/trade/hold-points.ts";
import type { RackInput } from "../machine/input.ts";
import type { Stage } from "../session/session.ts";
import type { RackStage } from "./batch.ts";

/**
 * Pages that start movement, give power or open what a hold point guards. Each wants a letter of its own, shown on the
 * page, and a fresh key (`session/fresh.ts`); the press button and ENTER never answer them.
 */
export type GuardedId =
  | HoldPointId
  /** The safety page before anything moves, and the moment the mains goes on. */
  | "before-moving"
  | "mains-on"
  /** After a halt or a break. */
  | "go-on"
  | "line-back"
  /** Another interface answers where the one before did. */
  | "other-interface"
  /** A setting was put right at the panel: it is identified again. */
  | "set-right"
  | "play-again"
  /** Pages of a rack: the fixtures that differed, one at a time; one that has an address of its own now. */
  | "one-by-one"
  | "own-address";

/** What the open page guards, of one fixture or of a rack; undefined where an ordinary answer will do. */
export const guardedBy = (stage: Stage | RackStage): GuardedId | undefined => {
  switch (stage.kind) {
    case "holding":
      return stage.point;
    case "paused":
      return "go-on";
    case "line-lost":
      return stage.back ? "line-back" : undefined;
    case "setting-found":
      return "set-right";
    case "by-hand":
      if (stage.task.kind === "hold-point") return stage.task.point;
      return stage.task.kind === "once-more" ? "play-again" : undefined;
    case "other-interface":
      return "other-interface";
    case "between":
      return "one-by-one";
    case "own-address":
      return "own-address";
    default:
      return undefined;
  }
};

/** Inputs that settle a question: they count only from a fresh key. Stopping, leaving, pressing, typing and signs of life always count. */
const ANSWERS: readonly string[] = [
  "confirm",
  "decline",
  "judge",
  "symptom",
  "moved",
  "choose",
  "name-fault",
  "undo",
  "again",
  "go-on",
  "slower",
  "return",
  "back",
  "withdraw",
  "swap",
  "told-apart",
  "confirm-but",
  "all-but",
] satisfies readonly RackInput["kind"][];

/** Whether an input is an answer to a question. */
export const isAnswer = ({ kind }: { readonly kind: string }): boolean => ANSWERS.includes(kind);

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

import { performance } from "node:perf_hooks";
import type { ReadStream } from "node:tty";
import type { Buttons } from "../data/bench/bench.ts";
import type { Milliseconds } from "../domain/units.ts";
import { KeyReader } from "./keys.ts";

/** What is read: a terminal, or whatever else was given as standard input. */
export type KeySource = Pick<ReadStream, "on" | "off" | "setEncoding" | "resume" | "pause"> &
  Partial<Pick<ReadStream, "setRawMode" | "isTTY" | "unref" | "ref">>;

/** An escape sequence that stops half-way and goes on within this time is one key, over a slow link too. */
const SETTLES_AFTER_MS = 40;

/**
 * Listens to the keys one by one until the returned function is called, which leaves the terminal as it was. `ended` is
 * called when no key can come any more.
 */
export const keyboard = (source: KeySource, key: (name: string) => void, ended: () => void): (() => void) => {
  const reader = new KeyReader();
  let settling: NodeJS.Timeout | undefined;
  const hear = (text: string) => {
    clearTimeout(settling);
    for (const name of reader.read(text)) key(name);
    if (reader.undecided) settling = setTimeout(() => reader.settle().forEach(key), SETTLES_AFTER_MS);
  };
  if (source.isTTY) source.setRawMode?.(true);
  source.setEncoding("utf8");
  source.ref?.();
  source.on("data", hear);
  source.on("end", ended);
  source.on("error", ended);
  source.resume();
  return () => {
    clearTimeout(settling);
    source.off("data", hear);
    source.off("end", ended);
    source.off("error", ended);
    source.on("error", () => {});
    if (source.isTTY) source.setRawMode?.(false);
    source.pause();
    source.unref?.();
  };
};

/** Nobody lets a contact go and closes it again within this time: the keyboard repeats a key that is held down (its rates are 2 to 40 a second; from memory). */
const REPEATS_MS = 100;
/** Two presses within this time are meant as one sign. Judgement. */
const TWICE_MS = 600;

/**
 * A foot switch with one contact, which types one key. While something moves every press counts at once; at a question one
 * press goes to the next answer and two in a row take it. Held down it is the stop button, always.
 */
export class FootSwitch {
  private readonly key: string;
  private readonly buttons: Buttons;
  private readonly moves: () => boolean;
  private readonly passOn: (key: string) => void;
  private last = Number.NEGATIVE_INFINITY;
  private held = false;
  private waiting: { readonly timer: NodeJS.Timeout; readonly presses: 1 | 2 } | undefined;

  /** `moves`: something moves just now; `passOn` is given the key of the button that was meant, or any other key as it is. */
  constructor(key: string, buttons: Buttons, moves: () => boolean, passOn: (key: string) => void) {
    this.key = key.toLowerCase();
    this.buttons = buttons;
    this.moves = moves;
    this.passOn = passOn;
  }

  /** Takes in a key. `at` is when it came, in milliseconds by the clock of the keys. */
  hear(name: string, at: Milliseconds): void {
    if (name.toLowerCase() !== this.key) {
      this.passOn(name);
      return;
    }
    const since = at - this.last;
    this.last = at;
    if (since <= REPEATS_MS) this.hold();
    else this.contact(since);
  }

  /** Stops waiting for a second contact. */
  close(): void {
    clearTimeout(this.waiting?.timer);
    this.waiting = undefined;
  }

  /** Once, however long it is held. */
  private hold(): void {
    this.close();
    if (!this.held) this.means(this.buttons.stop);
    this.held = true;
  }

  private contact(since: Milliseconds): void {
    const second = this.waiting?.presses === 1;
    this.held = false;
    this.close();
    if (second) this.after(REPEATS_MS, 2, this.moves() ? this.buttons.press : this.buttons.again);
    else if (!this.moves()) this.after(TWICE_MS, 1, this.buttons.press);
    // The second of two may be the first repeat of one that is held: that is known a moment later.
    else if (since <= TWICE_MS) this.after(REPEATS_MS, 2, this.buttons.press);
    else this.means(this.buttons.press);
  }

  private after(ms: number, presses: 1 | 2, keys: readonly string[]): void {
    const timer = setTimeout(() => {
      this.waiting = undefined;
      this.means(keys);
    }, ms);
    this.waiting = { timer, presses };
  }

  private means([key]: readonly string[]): void {
    if (key !== undefined) this.passOn(key);
  }
}

/** The keys of a bench, and where they come from. */
export interface BenchKeys {
  /** The buttons of the bench file. */
  readonly buttons: Buttons;
  /** The key of a foot switch with one contact, also of the bench file. */
  readonly footSwitch: string | undefined;
  readonly stdin: KeySource;
  /** Monotonic, in milliseconds; tests move it by hand. */
  readonly now?: () => number;
}

/** Listens to the keys of a bench, one of which may be a foot switch, until the returned function is called. */
export const benchKeys = (
  { stdin, buttons, footSwitch, now = () => performance.now() }: BenchKeys,
  moves: () => boolean,
  key: (name: string) => void,
  ended: () => void,
): (() => void) => {
  if (footSwitch === undefined) return keyboard(stdin, key, ended);
  const foot = new FootSwitch(footSwitch, buttons, moves, key);
  const deaf = keyboard(stdin, (name) => foot.hear(name, now()), ended);
  return () => {
    foot.close();
    deaf();
  };
};

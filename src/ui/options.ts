import type { WriteStream } from "node:tty";
import type { Buttons } from "../data/bench/bench.ts";
import type { Frame } from "../domain/units.ts";
import type { Spectacle, Watcher } from "../run/ports.ts";
import type { KeySource } from "./keyboard.ts";

/** What a screen needs from whoever opens it. */
export interface ScreenOptions {
  /** The buttons of the bench file. */
  readonly buttons: Buttons;
  /** The key of a foot switch with one contact, also of the bench file. */
  readonly footSwitch: string | undefined;
  /** The frame of the step that is out; asked at most 20 times a second. */
  readonly frame: () => Frame;
  /** What simulated fixtures show and sound, in the order of the rack; undefined on a real bench, where the strip shows where it is commanded to be. */
  readonly spectacle: (() => readonly (Spectacle | undefined)[]) | undefined;
  readonly colour: boolean;
  /** Letters several rows high. */
  readonly distance: boolean;
  readonly stdin: KeySource;
  readonly stdout: Terminal;
  /** Monotonic, in milliseconds; tests move it by hand. */
  readonly now?: () => number;
}

/** Where it is written: a terminal, or a file for the plain mode. */
export type Terminal = Pick<WriteStream, "write" | "on" | "off"> &
  Partial<Pick<WriteStream, "columns" | "rows" | "isTTY">>;

/** A watcher that can also be told something in passing, such as that the system cannot speak. */
export interface Screen extends Watcher {
  notice(words: string): void;
}

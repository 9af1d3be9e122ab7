import type { ReadStream } from "node:tty";
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

import { createInterface } from "node:readline";
import { fitted } from "../reports/wrap.ts";

/** Lines as a person types them, or as a pipe brings them. */
export interface TypedLines {
  /** The next line after a prompt; undefined when no more will come: the end of the input, or Ctrl-C. */
  next(): Promise<string | undefined>;
  /** From now on every line at once, until the returned function is called; undefined once when no more will come. */
  each(hear: (line: string | undefined) => void): () => void;
  /** At a terminal every key at once, as bench files name them, until the returned function is called. */
  keys(hear: (key: string) => void): () => void;
  say(words: string): void;
  close(): void;
}

/** A lone escape is told from the beginning of another key after so long. */
const SETTLES_AFTER_MS = 40;

export const typedLines = (): TypedLines => {
  const { stdin, stdout } = process;
  const terminal = stdin.isTTY === true;
  // A screen that was open before has let go of the keys, and nothing else would keep the program waiting for a line.
  if (terminal) stdin.ref();
  const reader = createInterface({
    input: stdin,
    ...(terminal ? { output: stdout } : {}),
    prompt: "> ",
    escapeCodeTimeout: SETTLES_AFTER_MS,
  });
  const say = (words: string): void => {
    stdout.write(`${stdout.isTTY ? fitted(words, stdout.columns || 80) : words}\n`);
  };
  const waiting: string[] = [];
  let over = false;
  let hear: ((line: string | undefined) => void) | undefined;
  /** A terminal shows what is typed by itself. */
  const shown = (line: string): string => {
    if (!terminal) say(`> ${line}`);
    return line;
  };
  reader.on("line", (line) => {
    if (hear) hear(shown(line));
    else waiting.push(line);
  });
  reader.on("SIGINT", () => reader.close());
  reader.on("close", () => {
    over = true;
    hear?.(undefined);
  });
  const each: TypedLines["each"] = (listener) => {
    hear = listener;
    for (const line of waiting.splice(0)) listener(shown(line));
    if (over) listener(undefined);
    return () => {
      if (hear === listener) hear = undefined;
    };
  };
  return {
    next: () =>
      new Promise((resolve) => {
        const line = waiting.shift();
        if (line !== undefined) return resolve(shown(line));
        if (over) return resolve(undefined);
        if (terminal) reader.prompt();
        const stop = each((one) => {
          stop();
          resolve(one);
        });
      }),
    each,
    keys: (listener) => {
      const typed = (text: string | undefined, { name }: { readonly name?: string }) => listener(name ?? text ?? "");
      if (terminal) stdin.on("keypress", typed);
      return () => void stdin.off("keypress", typed);
    },
    say,
    close: () => reader.close(),
  };
};

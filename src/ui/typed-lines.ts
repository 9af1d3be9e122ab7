import { createInterface, type Interface } from "node:readline";
import { fittedText } from "../reports/wrap.ts";

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

/** How long to wait until an escape is a key of its own and not the beginning of another. */
const SETTLES_AFTER_MS = 40;

/** What comes in, and whoever listens to it just now. */
interface LineInput {
  readonly reader: Interface;
  readonly waiting: string[];
  hear: ((line: string | undefined) => void) | undefined;
  over: boolean;
}

/** A pipe has one reader for the whole program: lines that came in one piece belong to the questions after this one as well. */
let pipe: LineInput | undefined;

const inputFor = (terminal: boolean): LineInput => {
  if (!terminal && pipe) return pipe;
  const { stdin, stdout } = process;
  const reader = createInterface({
    input: stdin,
    ...(terminal ? { output: stdout } : {}),
    prompt: "> ",
    escapeCodeTimeout: SETTLES_AFTER_MS,
  });
  const input: LineInput = { reader, waiting: [], hear: undefined, over: false };
  reader.on("line", (line) => {
    if (input.hear) input.hear(line);
    else input.waiting.push(line);
  });
  reader.on("SIGINT", () => reader.close());
  reader.on("close", () => {
    input.over = true;
    input.hear?.(undefined);
  });
  if (!terminal) pipe = input;
  return input;
};

const say = (words: string): void => {
  const { stdout } = process;
  stdout.write(`${stdout.isTTY ? fittedText(words, stdout.columns || 80) : words}\n`);
};

/** Lines that a person types, one after the other, at the terminal or from a pipe; what is said goes to standard output. */
export const typedLines = (): TypedLines => {
  const { stdin } = process;
  const terminal = stdin.isTTY === true;
  // A screen that was open before has let go of the keys, and nothing else would keep the program waiting for a line.
  if (terminal) stdin.ref();
  const input = inputFor(terminal);
  const { reader } = input;
  if (!terminal && !input.over) reader.resume();
  /** A terminal shows what is typed by itself. */
  const shown = (line: string): string => {
    if (!terminal) say(`> ${line}`);
    return line;
  };
  const each: TypedLines["each"] = (listener) => {
    const hear = (line: string | undefined) => listener(line === undefined ? undefined : shown(line));
    input.hear = hear;
    while (input.hear === hear && input.waiting.length > 0) hear(input.waiting.shift());
    if (input.hear === hear && input.over) hear(undefined);
    return () => {
      if (input.hear === hear) input.hear = undefined;
    };
  };
  return {
    next: () =>
      new Promise((resolve) => {
        const line = input.waiting.shift();
        if (line !== undefined) return resolve(shown(line));
        if (input.over) return resolve(undefined);
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
    close: () => {
      if (terminal) return reader.close();
      input.hear = undefined;
      if (!input.over) reader.pause();
    },
  };
};

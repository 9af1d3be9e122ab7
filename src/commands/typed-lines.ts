import { createInterface } from "node:readline";
import { print } from "./print.ts";

/** Lines as a person types them, or as a pipe brings them. */
export interface TypedLines {
  /** The next line after a prompt; undefined when no more will come: the end of the input, or Ctrl-C. */
  next(): Promise<string | undefined>;
  close(): void;
}

export const typedLines = (): TypedLines => {
  const terminal = process.stdin.isTTY === true;
  const reader = createInterface({
    input: process.stdin,
    ...(terminal ? { output: process.stdout } : {}),
    prompt: "> ",
  });
  reader.on("SIGINT", () => reader.close());
  const lines = reader[Symbol.asyncIterator]();
  return {
    next: async () => {
      if (terminal) reader.prompt();
      const line = await lines.next();
      if (!terminal && !line.done) print(`> ${line.value}`);
      return line.done ? undefined : line.value;
    },
    close: () => reader.close(),
  };
};

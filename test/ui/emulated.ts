import { EventEmitter } from "node:events";
import headless from "@xterm/headless";
import type { KeySource } from "../../src/ui/keyboard.ts";
import type { Terminal } from "../../src/ui/painter.ts";

/** A terminal emulator behind an output stream of our own: what was written, and what it looks like. */
export const emulated = (columns: number, rows: number) => {
  const terminal = new headless.Terminal({ cols: columns, rows, allowProposedApi: true });
  let output = "";
  const stdout = Object.assign(new EventEmitter(), {
    isTTY: true,
    columns,
    rows,
    write: (text: string) => {
      output += text;
      terminal.write(text);
      return true;
    },
  });
  return {
    stdout: stdout as unknown as Terminal,
    output: () => output,
    buffer: () => terminal.buffer.active.type,
    resize: (cols: number, lines: number) => {
      terminal.resize(cols, lines);
      Object.assign(stdout, { columns: cols, rows: lines });
      stdout.emit("resize");
    },
    breakOff: () => stdout.emit("error", new Error("EIO")),
    /** When the emulator has read all that was written. */
    screen: () =>
      new Promise<string>((resolve) => {
        terminal.write("", () => {
          const { active } = terminal.buffer;
          const lines = Array.from({ length: terminal.rows }, (_, row) =>
            (active.getLine(active.baseY + row)?.translateToString(true) ?? "").trimEnd(),
          );
          resolve(lines.join("\n").trimEnd());
        });
      }),
  };
};

/** A keyboard of our own: what is typed arrives in one read. */
export const typed = () => {
  const source = Object.assign(new EventEmitter(), {
    isTTY: true,
    raw: [] as boolean[],
    listening: false,
    setEncoding: () => source,
    resume: () => {
      source.listening = true;
      return source;
    },
    pause: () => {
      source.listening = false;
      return source;
    },
    ref: () => source,
    unref: () => source,
    setRawMode: (mode: boolean) => {
      source.raw.push(mode);
      return source;
    },
  });
  return {
    stdin: source as unknown as KeySource,
    type: (text: string) => source.emit("data", text),
    end: () => source.emit("end"),
    /** Whether keys come one by one, unechoed. */
    raw: () => source.raw.at(-1) ?? false,
    listening: () => source.listening,
  };
};

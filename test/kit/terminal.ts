import { spawn } from "@lydell/node-pty";
import headless from "@xterm/headless";

/** A program under a real pseudo-terminal, read by a terminal emulator: what a person would see and could type. */
export interface TerminalRun {
  /** The rows on the screen now, without blanks at their ends. */
  screen(): string;
  /** Everything that was ever written, as it was written. */
  readonly output: () => string;
  /** Waits until the screen says so, and takes an answer where it asks; fails with the screen as it stands when the program ends or `patience` is over. */
  until(says: string | RegExp | ((screen: string) => boolean), patience?: number): Promise<string>;
  /** Types all of it in one write. */
  type(text: string): void;
  /** Presses a key until the screen says so: again, as a person would, when the page answers that the key did not count. */
  press(key: string, says: string | RegExp | ((screen: string) => boolean)): Promise<string>;
  resize(columns: number, rows: number): void;
  /** Resolves with the exit code. */
  readonly ended: Promise<number>;
  /** Which of its two screens the terminal shows. */
  buffer(): "normal" | "alternate";
  kill(signal?: string): void;
  /** Closes the terminal itself, as when its window is closed or the connection to it breaks. */
  close(): void;
  readonly pid: number;
}

interface Options {
  readonly columns?: number;
  readonly rows?: number;
  readonly env?: Readonly<Record<string, string>>;
  readonly cwd?: string;
  /** Node, if nothing else is said. */
  readonly program?: string;
}

/** A program with these arguments in a terminal. Nothing that colours or silences a test run reaches it. */
export const inTerminal = (args: readonly string[], options: Options = {}): TerminalRun => {
  const { columns = 80, rows = 24, env = {}, cwd = process.cwd(), program = process.execPath } = options;
  const { CI, NO_COLOR, FORCE_COLOR, NODE_ENV, VITEST, ...usual } = process.env;
  const pty = spawn(program, [...args], {
    name: "xterm-256color",
    cols: columns,
    rows,
    cwd,
    env: { ...usual, ...env },
  });
  const terminal = new headless.Terminal({ cols: columns, rows, allowProposedApi: true, scrollback: 2000 });
  let output = "";
  let code: number | undefined;
  const watchers = new Set<() => void>();
  const look = () => {
    for (const watcher of watchers) watcher();
  };
  pty.onData((data) => {
    output += data;
    terminal.write(data, look);
  });
  const ended = new Promise<number>((resolve) => {
    pty.onExit(({ exitCode }) =>
      terminal.write("", () => {
        code = exitCode;
        resolve(exitCode);
        look();
      }),
    );
  });
  const screen = () => screenOf(terminal);
  return {
    screen,
    output: () => output,
    until: (says, patience = 60_000) => waitFor(screen, says, patience, watchers, () => code),
    type: (text) => pty.write(text),
    press: async (key, says) => {
      for (;;) {
        const before = output.length;
        const refused = () => REFUSED.test(output.slice(before));
        pty.write(key);
        const now = await waitFor(
          screen,
          (one) => isThere(one, says) || refused(),
          60_000,
          watchers,
          () => code,
        );
        if (!refused()) return now;
        await waitFor(
          screen,
          () => false,
          HELD_MS,
          watchers,
          () => code,
        ).catch(() => {});
      }
    },
    resize: (cols, lines) => {
      terminal.resize(cols, lines);
      pty.resize(cols, lines);
    },
    ended,
    buffer: () => terminal.buffer.active.type,
    kill: (signal) => pty.kill(signal),
    close: () => (pty as unknown as { readonly destroy: () => void }).destroy(),
    pid: pty.pid,
  };
};

/** The page's words for a key that came before it could be read, or was held down; and for how long it may count as held. */
const REFUSED = /! That key/;
const HELD_MS = 1100;

const isThere = (screen: string, says: string | RegExp | ((screen: string) => boolean)): boolean =>
  typeof says === "function" ? says(screen) : typeof says === "string" ? screen.includes(says) : says.test(screen);

/** A page that takes no answer yet: whoever waits for it means to answer it. */
const WAITS = /^ {2}\.\.\.$/m;

const screenOf = (terminal: InstanceType<typeof headless.Terminal>): string => {
  const { active } = terminal.buffer;
  return Array.from({ length: terminal.rows }, (_, row) =>
    (active.getLine(active.baseY + row)?.translateToString(true) ?? "").trimEnd(),
  )
    .join("\n")
    .trimEnd();
};

const waitFor = (
  screen: () => string,
  says: string | RegExp | ((screen: string) => boolean),
  patience: number,
  watchers: Set<() => void>,
  code: () => number | undefined,
): Promise<string> =>
  new Promise((resolve, reject) => {
    const done = (act: () => void) => {
      watchers.delete(look);
      clearTimeout(timer);
      act();
    };
    const fail = (why: string) =>
      done(() => reject(new Error(`${why}; wanted ${String(says)}, the screen was:\n${screen()}`)));
    const look = () => {
      const now = screen();
      const there = !WAITS.test(now) && isThere(now, says);
      if (there) done(() => resolve(now));
      else if (code() !== undefined) fail(`the program ended with ${code()}`);
    };
    const timer = setTimeout(() => fail(`not within ${patience} ms`), patience);
    watchers.add(look);
    look();
  });

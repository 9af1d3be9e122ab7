import { EventEmitter } from "node:events";
import type { WriteStream } from "node:tty";
import { keyboard } from "./keyboard.ts";
import { LEAVE_PASTES, MARK_PASTES } from "./keys.ts";

/** Where it is written: a terminal, or a file for the plain mode. */
export type Terminal = Pick<WriteStream, "write" | "on" | "off"> &
  Partial<Pick<WriteStream, "columns" | "rows" | "isTTY">>;

/** Control sequences of ECMA-48, and the usual private ones (memory). */
const OTHER_SCREEN = "\u001b[?1049h";
const USUAL_SCREEN = "\u001b[?1049l";
const HIDE_CURSOR = "\u001b[?25l";
const SHOW_CURSOR = "\u001b[?25h";
const CLEAR = "\u001b[H\u001b[2J";
const REST_OF_ROW = "\u001b[K";
const toRow = (row: number): string => `\u001b[${row};1H`;

/**
 * Stands between ink and the terminal: takes whole pages and writes only the rows that differ, each at its place. (ink's
 * own way of doing that loses count when the number of rows changes.) Works on the terminal's other screen, so that what
 * stood there before comes back at the end.
 */
export class Painter extends EventEmitter {
  /** Tells ink that this is no terminal, so that it moves no cursor and only makes pages. */
  readonly isTTY = false;
  private readonly terminal: Terminal;
  private painted: readonly string[] = [];

  constructor(terminal: Terminal) {
    super();
    this.terminal = terminal;
  }

  get columns(): number {
    return this.terminal.columns || 80;
  }

  get rows(): number {
    return this.terminal.rows || 24;
  }

  get empty(): boolean {
    return this.painted.every((row) => row.trim() === "");
  }

  /** Takes over the terminal: its other screen, cleared, without a cursor. */
  enter(): void {
    this.painted = [];
    this.terminal.write(OTHER_SCREEN + HIDE_CURSOR + MARK_PASTES + CLEAR);
  }

  /** Gives the terminal back as it was. */
  leave(): void {
    this.terminal.write(LEAVE_PASTES + SHOW_CURSOR + USUAL_SCREEN);
  }

  /** Forgets what is on the terminal: the next page is painted whole. */
  anew(): void {
    this.painted = [];
    this.terminal.write(CLEAR);
  }

  /** What ink calls: one page, rows apart by line breaks. */
  readonly write = (page: string): boolean => {
    const next = page.split("\n").slice(0, this.rows);
    const { painted } = this;
    const rows = Array.from({ length: Math.max(next.length, painted.length) }, (_, row) => next[row] ?? "");
    const changed = rows.map((text, row) => (text === (painted[row] ?? "") ? "" : toRow(row + 1) + text + REST_OF_ROW));
    this.painted = next;
    const bytes = changed.join("");
    if (bytes !== "") this.terminal.write(bytes);
    return true;
  };
}

const AGAIN_EVERY_MS = 2000;
const LEAVES: readonly string[] = ["q", "escape", "enter", "ctrl-c"];
const FOOT = "Updated every two seconds. Quit: Q, ESCAPE or ENTER.";

/**
 * The lines that lie open of a list for which a terminal has `room` rows: all, or a page of them with how to see the others
 * as its last line. `leafed` is how many pages were leafed on, from 0; after the last page comes the first.
 */
export const openLines = (lines: readonly string[], room: number, leafed: number): readonly string[] => {
  if (lines.length <= room) return lines;
  const each = Math.max(1, room - 1);
  const pages = Math.ceil(lines.length / each);
  const page = leafed % pages;
  return [...lines.slice(page * each, (page + 1) * each), `TAB: next page, ${page + 1} of ${pages}.`];
};

/** A page of lines on the terminal's other screen, asked for anew every two seconds until somebody leaves it. */
export const boardScreen = (lines: (columns: number) => Promise<readonly string[]>): Promise<0> => {
  const { stdin, stdout } = process;
  const painter = new Painter(stdout);
  let leafed = 0;
  painter.enter();
  return new Promise((resolve, reject) => {
    const draw = () =>
      lines(painter.columns).then(
        (all) => painter.write([...openLines(all, painter.rows - 3, leafed), "", FOOT].join("\n")),
        leave,
      );
    const timer = setInterval(draw, AGAIN_EVERY_MS);
    const deaf = keyboard(
      stdin,
      (key) => pressed(key.toLowerCase()),
      () => leave(),
    );
    stdout.on("resize", () => painter.anew());
    function pressed(key: string): void {
      if (LEAVES.includes(key)) leave();
      if (key !== "tab") return;
      leafed += 1;
      void draw();
    }
    function leave(error?: unknown): void {
      clearInterval(timer);
      deaf();
      stdout.removeAllListeners("resize");
      painter.leave();
      if (error === undefined) resolve(0);
      else reject(error);
    }
    void draw();
  });
};

import { EventEmitter } from "node:events";
import { LEAVE_PASTES, MARK_PASTES } from "./keys.ts";
import type { Terminal } from "./options.ts";

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

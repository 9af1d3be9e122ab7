import "./before-ink.ts";
import { performance } from "node:perf_hooks";
import type { ReadStream, WriteStream } from "node:tty";
import { Box, type Instance, render, Text } from "ink";
import { createElement, type ReactElement, useSyncExternalStore } from "react";
import type { Batch } from "../run/batch/batch.ts";
import type { RackInput } from "../run/machine/input.ts";
import { Attendant, type Page, type Screen, type ScreenOptions } from "./attendant.ts";
import { benchKeys } from "./keyboard.ts";
import type { Row } from "./page.ts";
import { Painter } from "./painter.ts";

/** The screen of a person before one fixture or a rack: one step at a time in large words, drawn at most 20 times a second. */
export const screen = (options: ScreenOptions): Screen =>
  new InkScreen(options, new Attendant(options, options.now ?? (() => performance.now())));

const BELL = "\u0007";
const REDRAW = "\f";

class InkScreen implements Screen {
  private readonly options: ScreenOptions;
  private readonly attendant: Attendant;
  private readonly painter: Painter;
  private pages: Pages | undefined;
  private ink: Instance | undefined;
  private deaf = () => {};
  private timer: NodeJS.Timeout | undefined;
  private due: NodeJS.Immediate | undefined;
  private state: "waiting" | "open" | "closed" = "waiting";

  constructor(options: ScreenOptions, attendant: Attendant) {
    this.options = options;
    this.attendant = attendant;
    this.painter = new Painter(options.stdout);
  }

  listen(answer: (input: RackInput) => void): void {
    this.attendant.listen(answer);
  }

  /** Drawn a moment later: who publishes may be about to send a frame. */
  show(batch: Batch): void {
    this.attendant.show(batch);
    if (this.state === "waiting") this.open();
    this.due ??= setImmediate(() => this.draw());
  }

  notice(words: string): void {
    this.attendant.notice = words;
  }

  close(): void {
    if (this.state !== "open") return;
    this.draw();
    this.state = "closed";
    clearInterval(this.timer);
    clearImmediate(this.due);
    this.deaf();
    this.options.stdout.off("resize", this.resized);
    this.ink?.unmount();
    process.off("exit", this.leave);
    this.leave();
  }

  private open(): void {
    this.state = "open";
    const { stdout } = this.options;
    stdout.on("error", this.gone);
    stdout.on("resize", this.resized);
    process.on("exit", this.leave);
    this.painter.enter();
    this.deaf = benchKeys(
      this.options,
      () => this.attendant.moves,
      (name) => this.key(name),
      this.gone,
    );
    this.timer = setInterval(() => this.tick(), this.attendant.interval);
  }

  private readonly tick = (): void => {
    if (this.attendant.remind()) this.options.stdout.write(BELL);
    this.draw();
  };

  private key(name: string): void {
    if (name === REDRAW) this.resized();
    this.attendant.key(name, this.pages?.take().drawn);
    this.draw();
  }

  private draw(): void {
    this.due = undefined;
    if (this.state !== "open") return;
    const { columns, rows } = this.painter;
    const page = this.attendant.page({ columns, rows });
    if (!page) return;
    if (this.pages) this.pages.put(page);
    else this.mount(page);
  }

  private mount(page: Page): void {
    const pages = new Pages(page);
    this.pages = pages;
    // Not as JSX: what the compiler makes of it loads React before anything else in a file, "./before-ink.ts" too.
    // Debug means that ink writes whole pages, and leaves it to the painter what has changed.
    this.ink = render(createElement(Sheet, { pages, colour: this.options.colour ? "colour" : "plain" }), {
      stdin: this.options.stdin as ReadStream,
      stdout: this.painter as unknown as WriteStream,
      debug: true,
      exitOnCtrlC: false,
      patchConsole: false,
    });
    this.ink.waitUntilExit().catch(wrong);
    if (this.painter.empty) wrong(new Error("Bug: nothing is drawn"));
  }

  /** Painted anew from nothing: nobody knows what a terminal of another size has left of the old page. */
  private readonly resized = (): void => {
    this.painter.anew();
    this.painter.emit("resize");
    this.draw();
  };

  /** The terminal went away: a write to it must not end the run before the fixture is dark. */
  private readonly gone = (): void => {
    if (this.state !== "open") return;
    clearInterval(this.timer);
    this.attendant.gone();
  };

  private readonly leave = (): void => {
    this.painter.leave();
  };
}

/** A screen that cannot be drawn is a mistake of ours, and nobody may stand before a moving fixture and a blank screen. */
const wrong = (error: unknown): void => {
  setImmediate(() => {
    throw error;
  });
};

/** Where pages are put out for ink to take: it takes them at once, so the newest is the one that stands on the screen. */
export class Pages {
  private newest: Page;
  private readonly listeners = new Set<() => void>();

  constructor(first: Page) {
    this.newest = first;
  }

  /** Shows a page. One that looks like the page before and asks the same is not drawn again. */
  put(page: Page): void {
    if (page.drawn.question === this.newest.drawn.question && sameRows(page.rows, this.newest.rows)) return;
    this.newest = page;
    for (const tell of this.listeners) tell();
  }

  readonly subscribe = (tell: () => void): (() => void) => {
    this.listeners.add(tell);
    return () => this.listeners.delete(tell);
  };

  readonly take = (): Page => this.newest;
}

const sameRows = (a: readonly Row[], b: readonly Row[]): boolean =>
  a.length === b.length && a.every((row, place) => row.text === b[place]?.text && row.look === b[place]?.look);

/** Draws the rows of a page; all that they say was decided before. Not written as JSX: see screen.ts. */
export const Sheet = ({
  pages,
  colour,
}: {
  readonly pages: Pages;
  readonly colour: "colour" | "plain";
}): ReactElement => {
  const { rows } = useSyncExternalStore(pages.subscribe, pages.take);
  const drawn = rows.map((row, place) => rowOf(row, place, colour === "colour" ? LOOKS[row.look] : {}));
  return createElement(Box, { flexDirection: "column" }, ...drawn);
};

interface TextLook {
  readonly bold?: boolean;
  readonly dimColor?: boolean;
  readonly color?: string;
}

/** An empty row would have no height. */
const rowOf = ({ text }: Row, place: number, look: TextLook): ReactElement =>
  createElement(Text, { key: place, wrap: "truncate", ...look }, text === "" ? " " : text);

const LOOKS: Readonly<Record<Row["look"], TextLook>> = {
  plain: {},
  strong: { bold: true },
  faint: { dimColor: true },
  alert: { bold: true, color: "red" },
};

import type { Row } from "./rows.ts";
import type { RackDrawn } from "./sight.ts";

/** A page and what it shows: keys answer that. */
export interface Page {
  readonly rows: readonly Row[];
  readonly drawn: RackDrawn;
}

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

import type { Row } from "./rows.ts";

/** A page and what it shows: keys answer that. */
export interface Page<Drawn extends Asks = Asks> {
  readonly rows: readonly Row[];
  readonly drawn: Drawn;
}

/** What every page says of itself: what it asks. */
export interface Asks {
  readonly question: string | undefined;
}

/** Where pages are put out for ink to take: it takes them at once, so the newest is the one that stands on the screen. */
export class Pages<Drawn extends Asks = Asks> {
  private newest: Page<Drawn>;
  private readonly listeners = new Set<() => void>();

  constructor(first: Page<Drawn>) {
    this.newest = first;
  }

  /** Shows a page. One that looks like the page before and asks the same is not drawn again. */
  put(page: Page<Drawn>): void {
    if (page.drawn.question === this.newest.drawn.question && sameRows(page.rows, this.newest.rows)) return;
    this.newest = page;
    for (const tell of this.listeners) tell();
  }

  readonly subscribe = (tell: () => void): (() => void) => {
    this.listeners.add(tell);
    return () => this.listeners.delete(tell);
  };

  readonly take = (): Page<Drawn> => this.newest;
}

const sameRows = (a: readonly Row[], b: readonly Row[]): boolean =>
  a.length === b.length && a.every((row, place) => row.text === b[place]?.text && row.look === b[place]?.look);

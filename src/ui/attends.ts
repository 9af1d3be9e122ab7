import type { Asks, Page } from "./pages-out.ts";
import type { Size } from "./sight.ts";

/** Whoever stands between what is published and what is drawn, for one fixture or for a rack: makes the page, and turns keys into answers. */
export interface Attends<State, Said, Drawn extends Asks> {
  /** How often something new is worth showing, in milliseconds. */
  readonly interval: number;
  notice: string | undefined;
  /** Something moves, or has moved so short a time ago that a press is meant for that. */
  readonly moves: boolean;
  listen(answer: (input: Said) => void): void;
  show(state: State): void;
  /** Undefined while nothing was published. */
  page(size: Size): Page<Drawn> | undefined;
  /** A key, as an answer to what was drawn; undefined before anything was. */
  key(name: string, drawn: Drawn | undefined): void;
  /** Once, when somebody has been quiet for too long while it goes on by itself. */
  remind(): "now" | undefined;
  /** The terminal is gone: nobody can answer any more. */
  gone(): void;
}

/** Says in sentences what has changed, of a fixture or of a rack. */
export interface Tells<State, Said> {
  readonly attends: Omit<Attends<State, Said, Asks>, "page" | "key">;
  /** Since it was asked last. */
  changes(): readonly string[];
  /** A key, as an answer to what was told last. */
  key(name: string): void;
}

import type { Attends } from "./attends.ts";
import type { Asks } from "./pages-out.ts";

/** Says in sentences what has changed, of a fixture or of a rack. */
export interface Tells<State, Said> {
  readonly attends: Omit<Attends<State, Said, Asks>, "page" | "key">;
  /** Since it was asked last. */
  changes(): readonly string[];
  /** A key, as an answer to what was told last. */
  key(name: string): void;
}

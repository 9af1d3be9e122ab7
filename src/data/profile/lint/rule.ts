import type { Path } from "../../../domain/problem/document.ts";
import type { ReadProfile } from "../parse.ts";
import type { RuleName } from "./names.ts";

/** One mistake that people make when they copy a chart: the profile can be used and would yet mislead. */
export interface ProfileRule {
  readonly name: RuleName;
  /** One sentence: what goes wrong at the bench when it is left as it is. */
  readonly why: string;
  readonly find: (read: ReadProfile) => readonly ProfileFinding[];
}

export interface ProfileFinding {
  /** Where in the file. */
  readonly path: Path;
  /** The name itself is meant, not its value. */
  readonly at?: "key";
  readonly message: string;
  /** What to write there, as it would stand in the file where that is known. */
  readonly instead: string;
}

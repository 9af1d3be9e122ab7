import type { Problem } from "./problem.ts";
import { tellProblems } from "./tell.ts";

/** Something in a data file that can be used and would yet mislead, with its place, the rule it breaks and why that matters. */
export interface Doubt {
  readonly rule: string;
  readonly why: string;
  readonly problem: Problem;
}

/** Doubts as a person reads them: the place, what is odd and what to write instead, the line, why it matters, the rule's name. */
export const tellDoubts = (doubts: readonly Doubt[]): string =>
  doubts.map(({ problem, why, rule }) => `${tellProblems([problem])}\n  ${why} [${rule}]`).join("\n\n");

import { tellProblems } from "../../problem/tell.ts";
import type { Doubt } from "./lint.ts";

/** Doubts as a person reads them: the place, what is odd and what to write instead, the line, why it matters, the rule's name. */
export const tellDoubts = (doubts: readonly Doubt[]): string =>
  doubts.map(({ problem, why, rule }) => `${tellProblems([problem])}\n  ${why} [${rule}]`).join("\n\n");

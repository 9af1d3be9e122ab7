import { functionWords } from "../../domain/trade/functions.ts";
import { ROUTINES } from "../../domain/trade/routines.ts";
import type { CompiledStep } from "../../plan/timeline.ts";

/** The functions of a step in words: "pan and tilt", "cyan, magenta and yellow", "the whole fixture". */
export const functionsInWords = ({ functions }: Pick<CompiledStep, "functions">): string => {
  const words = functions.map(functionWords);
  if (words.length === 0) return "the whole fixture";
  return words.length === 1 ? (words[0] ?? "") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
};

/** A step in words: its functions, and what they do. */
export const stepInWords = (step: Pick<CompiledStep, "functions" | "routine">): string =>
  `${functionsInWords(step)}: ${ROUTINES[step.routine].words}`;

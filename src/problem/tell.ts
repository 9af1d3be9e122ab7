import type { Problem } from "./problem.ts";
import { safeText } from "./terminal.ts";

/** Problems as a person reads them: place, what is wrong, the line with the mistake underlined, what would be right. */
export const tellProblems = (problems: readonly Problem[]): string => problems.map(tellProblem).join("\n\n");

const tellProblem = ({ source, place, message, hint }: Problem): string => {
  const right = hint === undefined ? "" : ` (${safeText(hint)})`;
  const head = `${safeText(source)}${place ? `:${place.line}:${place.column}` : ""}: ${safeText(message)}${right}`;
  if (!place) return head;
  const before = safeText(place.text.slice(0, place.column - 1));
  const marked = safeText(place.text.slice(place.column - 1, place.column - 1 + place.length));
  const after = safeText(place.text.slice(place.column - 1 + place.length));
  return `${head}\n  ${before}${marked}${after}\n  ${" ".repeat(before.length)}${"^".repeat(Math.max(1, marked.length))}`;
};

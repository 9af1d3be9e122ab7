import type { Problem } from "./problem.ts";
import { safeText } from "./terminal.ts";

/** Problems as a person reads them: place, what is wrong, the line with the mistake underlined, what would be right. */
export const tellProblems = (problems: readonly Problem[]): string => problems.map(tellProblem).join("\n\n");

const tellProblem = ({ source, place, message, hint }: Problem): string => {
  const right = hint === undefined ? "" : ` (${safeText(hint)})`;
  const head = `${safeText(source)}${place ? `:${place.line}:${place.column}` : ""}: ${safeText(message)}${right}`;
  if (!place) return head;
  const start = place.column - 1;
  const end = start + Math.min(place.length, LONGEST);
  const before = safeText(`${start > ASIDE ? "..." : ""}${place.text.slice(Math.max(0, start - ASIDE), start)}`);
  const marked = safeText(place.text.slice(start, end));
  const after = safeText(`${place.text.slice(end, end + ASIDE)}${place.text.length > end + ASIDE ? "..." : ""}`);
  return `${head}\n  ${before}${marked}${after}\n  ${" ".repeat(before.length)}${"^".repeat(Math.max(1, marked.length))}`;
};

/** Of a very long line, such as XML written without breaks, only what stands around the mistake. */
const LONGEST = 200;
const ASIDE = 120;

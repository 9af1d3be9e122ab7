import { type Problem, tellProblems } from "../../domain/problem/problem.ts";
import { safeLines } from "../../domain/problem/terminal.ts";
import { fittedText } from "../../reports/wrap.ts";
import { EXIT, type ExitCode } from "./exit.ts";

/**
 * Prints on standard output. Another program gets every character as it is. A terminal would obey some of them, so there
 * they are shown instead; and it would break long lines in the middle of a word, so there they are broken at blanks.
 */
export const print = (text: string): void => {
  const { isTTY, columns } = process.stdout;
  process.stdout.write(`${isTTY ? fittedText(safeLines(text), columns || 80) : text}\n`);
};
/** Prints on standard error, with long lines broken at blanks where that is a terminal. */
export const complain = (text: string): void => {
  const { isTTY, columns } = process.stderr;
  process.stderr.write(`${isTTY ? fittedText(text, columns || 80) : text}\n`);
};

/** Tells what is wrong with the order; nothing was moved. */
export const refuse = (problems: readonly Problem[]): ExitCode => {
  complain(tellProblems(problems));
  return EXIT.input;
};

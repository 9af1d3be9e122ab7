import type { Problem } from "../../domain/problem/problem.ts";
import { tellProblems } from "../../domain/problem/tell.ts";
import { safeLines } from "../../domain/problem/terminal.ts";
import { EXIT, type ExitCode } from "./exit.ts";

/** Another program gets every character as it is; a terminal would obey some of them, so there they are shown instead. */
export const print = (text: string): void => {
  process.stdout.write(`${process.stdout.isTTY ? safeLines(text) : text}\n`);
};
export const complain = (text: string): void => {
  process.stderr.write(`${text}\n`);
};

/** Tells what is wrong with the order; nothing was moved. */
export const refuse = (problems: readonly Problem[]): ExitCode => {
  complain(tellProblems(problems));
  return EXIT.input;
};

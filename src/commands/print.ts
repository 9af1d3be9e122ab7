import type { Problem } from "../problem/problem.ts";
import { tellProblems } from "../problem/tell.ts";
import { EXIT, type ExitCode } from "./exit.ts";

export const print = (text: string): void => {
  process.stdout.write(`${text}\n`);
};
export const complain = (text: string): void => {
  process.stderr.write(`${text}\n`);
};

/** Tells what is wrong with the order; nothing was moved. */
export const refuse = (problems: readonly Problem[]): ExitCode => {
  complain(tellProblems(problems));
  return EXIT.input;
};

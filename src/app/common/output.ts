import { type Problem, tellProblems } from "../../domain/problem/problem.ts";
import { safeLines, safeText } from "../../domain/problem/shown-text.ts";
import { writeNew } from "../../io/files/outside.ts";
import { fittedText } from "../../reports/wrap.ts";

/** What the program's end tells a script. */
export const EXIT = {
  /** The run came to its end, whatever it found. */
  done: 0,
  /** A mistake of ours. */
  bug: 1,
  /** The command, a name or a data file is wrong: nothing was moved. */
  input: 2,
  /** A port, the journal or another part of the world could not be used. */
  world: 3,
  /** Stopped before the end; `limber resume` goes on. */
  stopped: 4,
} as const;
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** Prints a text, or writes it to a new file; a file that is there is never overwritten. */
export const deliver = (text: string, out: string | undefined): ExitCode => {
  if (out === undefined) {
    print(text.trimEnd());
    return EXIT.done;
  }
  const trouble = writeNew(out, text.endsWith("\n") ? text : `${text}\n`);
  if (trouble !== undefined) {
    complain(`${safeText(out)}: not written, ${safeText(trouble)}`);
    return EXIT.world;
  }
  print(`Written: ${safeText(out)}`);
  return EXIT.done;
};

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

import { safeText } from "../../domain/problem/terminal.ts";
import { writeNew } from "../../io/files/outside.ts";
import { EXIT, type ExitCode } from "./exit.ts";
import { complain, print } from "./print.ts";

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

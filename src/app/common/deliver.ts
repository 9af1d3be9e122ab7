import { writeFileSync } from "node:fs";
import { safeText } from "../../domain/problem/terminal.ts";
import { EXIT, type ExitCode } from "./exit.ts";
import { complain, print } from "./print.ts";

/** Prints a text, or writes it to a new file; a file that is there is never overwritten. */
export const deliver = (text: string, out: string | undefined): ExitCode => {
  if (out === undefined) {
    print(text.trimEnd());
    return EXIT.done;
  }
  try {
    writeFileSync(out, text.endsWith("\n") ? text : `${text}\n`, { flag: "wx" });
    print(`Written: ${safeText(out)}`);
    return EXIT.done;
  } catch (error) {
    const there = error instanceof Error && "code" in error && error.code === "EEXIST";
    complain(`${safeText(out)}: ${there ? "is there already; name another file" : reasonOf(error)}`);
    return EXIT.world;
  }
};

const reasonOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

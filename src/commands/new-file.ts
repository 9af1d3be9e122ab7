import { writeFileSync } from "node:fs";
import { safeText } from "../problem/terminal.ts";
import type { TypedLines } from "../screen/typed-lines.ts";
import { EXIT, type ExitCode } from "./exit.ts";
import { print } from "./print.ts";

/** Writes a file where none is, after a yes; asks for another place as long as there is something in the way. */
export const keepNew = async (
  lines: TypedLines,
  usual: string,
  textFor: (file: string) => string,
): Promise<ExitCode | "back" | undefined> => {
  let place = usual;
  for (;;) {
    print(`Write it to ${safeText(place)}? [yes] or another file, "no", "back"`);
    const line = (await lines.next())?.trim();
    if (line === undefined || line === "no") return undefined;
    if (line === "back") return "back";
    if (line !== "" && line !== "yes") place = line;
    const wrong = written(place, textFor(place));
    if (wrong === undefined) return EXIT.done;
    print(`  ${wrong}`);
  }
};

/** Says what was in the way; what is there already is never touched. */
const written = (file: string, text: string): string | undefined => {
  try {
    writeFileSync(file, text, { flag: "wx" });
    print(`Written: ${safeText(file)}`);
    return undefined;
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? "";
    return WORDS[code] ?? `it cannot be written (${safeText(code)})`;
  }
};

const WORDS: Readonly<Record<string, string>> = {
  EEXIST: "There is a file of this name, and it stays as it is. Another name?",
  ENOENT: "There is no such folder.",
  EISDIR: "That is a folder.",
  EACCES: "You may not write there.",
  EROFS: "Nothing can be written there.",
};

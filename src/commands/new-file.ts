import { safeText } from "../problem/terminal.ts";
import type { TypedLines } from "../screen/typed-lines.ts";
import { writeNew } from "../shelf/outside.ts";
import { EXIT, type ExitCode } from "./exit.ts";
import { print } from "./print.ts";

/** Writes a file where none is, after a yes; asks for another place as long as there is something in the way. Undefined: a no. */
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
    const trouble = writeNew(place, textFor(place));
    print(trouble === undefined ? `Written: ${safeText(place)}` : `  ${safeText(trouble)}: nothing is written there.`);
    if (trouble === undefined) return EXIT.done;
  }
};

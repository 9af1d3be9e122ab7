import { safeText } from "../../domain/problem/terminal.ts";
import { writeNew } from "../../io/files/outside.ts";
import type { TypedLines } from "../../ui/typed-lines.ts";
import { EXIT, type ExitCode } from "../common/exit.ts";
import { print } from "../common/print.ts";

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

import type { RackDraft } from "../../data/rack/parse.ts";
import { type RackFixture, startInWords } from "../../data/rack/rack.ts";
import { type Edit, editedText } from "../../data/rack/write.ts";
import { bad, good, problem, type Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { replaceFile } from "../../io/files/outside.ts";
import { EXIT, type ExitCode } from "../common/exit.ts";
import { complain, print, refuse } from "../common/print.ts";
import { draftFrom } from "./rack-data.ts";

/** Writes the addresses of these fixtures, one for each of the file in its order, into the rack file and changes nothing else. */
export const writeAddresses = (draft: RackDraft, fixtures: readonly RackFixture[]): ExitCode => {
  const text = textWith(draft, fixtures);
  if (!text.ok) return refuse(text.problems);
  const trouble = replaceFile(draft.file.source, text.value);
  if (trouble !== undefined) {
    complain(`${safeText(draft.file.source)}: ${safeText(trouble)}`);
    return EXIT.world;
  }
  print(`\nWritten into ${safeText(draft.file.source)}.`);
  return EXIT.done;
};

/** The file's new text; read once more before it may take the place of the old one. */
const textWith = ({ file }: RackDraft, fixtures: readonly RackFixture[]): Result<string> => {
  const edits = fixtures.flatMap(({ start }, entry): readonly Edit[] =>
    start
      ? [
          { entry, key: "universe", value: start.universe },
          { entry, key: "address", value: start.slot },
        ]
      : [],
  );
  const text = editedText(file.text, edits);
  const again = draftFrom(fileLibrary(), file.source, text);
  const wrong = fixtures.find(
    (fixture, index) =>
      !again.ok || startInWords(again.value.rack.fixtures[index]?.start) !== startInWords(fixture.start),
  );
  return wrong
    ? bad(
        problem(file.source, `${wrong.serial} is written in a way that cannot be changed from here`, "set it by hand"),
      )
    : good(text);
};

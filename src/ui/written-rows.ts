import { safeText } from "../domain/problem/terminal.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import { entryRows } from "./person-rows.ts";
import type { Sight } from "./sight.ts";
import { type Line, said } from "./view.ts";

/** What has been written down so far, or is being typed, a line each. */
export const writtenRows = (
  sight: Sight,
  lines: readonly (readonly [name: string, text: string])[],
): readonly Line[] =>
  sight.desk.entry
    ? entryRows(sight.desk.entry)
    : lines.flatMap(([name, text]) => said(text === "" ? "" : `${name}: ${safeText(text)}`));

/** Which keys write a note and initials, with `more` between them, and which stops it all. */
export const moreRows = ({ plan, session }: Sight, more: string): readonly Line[] => {
  const { note, person } = plan.letters;
  const who = session.person === "" ? "Your initials" : `By hand: ${safeText(session.person)}. Somebody else`;
  return said(
    `Write a note: ${keyWords(note)}. ${more} ${who}: ${keyWords(person)}. Stop it all: ${anyOf(plan.stop)}.`.replaceAll(
      "  ",
      " ",
    ),
  );
};

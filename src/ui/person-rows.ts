import { safeText } from "../domain/problem/terminal.ts";
import type { TypedEntry } from "./desk.ts";
import { keyWords } from "./key-plan.ts";
import type { Sight } from "./sight.ts";
import { type Line, said } from "./view.ts";

/** Who watches, or the text that is being typed. */
export const personRows = ({ desk, plan, session }: Sight): readonly Line[] =>
  desk.entry
    ? entryRows(desk.entry)
    : said(
        session.person === ""
          ? `Your initials, for the record: ${keyWords(plan.letters.person)}.`
          : `Watching: ${safeText(session.person)}. Somebody else: ${keyWords(plan.letters.person)}.`,
        "faint",
        1,
      );

/** The line in which a text is being typed, and how it is saved or dropped. */
export const entryRows = (entry: TypedEntry): readonly Line[] =>
  said(`${ENTRIES[entry.what]}: ${safeText(entry.text)}_  (ENTER: save, ESCAPE: cancel)`, "strong");

/** What is asked for while something is typed. */
export const ENTRIES: Readonly<Record<TypedEntry["what"], string>> = {
  note: "Your note",
  person: "Initials of who watches",
  photo: "File name of the photo",
  value: "The value",
  part: "Part used",
  minutes: "Minutes it took",
  initials: "Initials of who did it",
};

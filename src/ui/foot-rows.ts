import { safeText } from "../domain/problem/shown-text.ts";
import { canTakeBack } from "../run/session/retaking.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import type { AloneSight, Sight, TypedEntry } from "./sight.ts";
import { type Line, said } from "./view.ts";

/** Who watches, or the text that is being typed. */
export const personRows = ({ desk, plan, batch: { person } }: Sight): readonly Line[] =>
  desk.entry
    ? entryRows(desk.entry)
    : said(
        person === ""
          ? `Your initials, for the record: ${keyWords(plan.letters.person)}.`
          : `Watching: ${safeText(person)}. Somebody else: ${keyWords(plan.letters.person)}.`,
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
  serial: "Serial number of the fixture that stands there now",
};

/** What has been written down so far, or is being typed, a line each. */
export const writtenRows = (
  sight: Sight,
  lines: readonly (readonly [name: string, text: string])[],
): readonly Line[] =>
  sight.desk.entry
    ? entryRows(sight.desk.entry)
    : lines.flatMap(([name, text]) => said(text === "" ? "" : `${name}: ${safeText(text)}`));

/** Which keys write a note and initials, with `more` between them, and which stops it all. */
export const moreRows = ({ plan, session }: AloneSight, more: string): readonly Line[] => {
  const { note, person } = plan.letters;
  const who = session.person === "" ? "Your initials" : `By hand: ${safeText(session.person)}. Somebody else`;
  return said(
    `Write a note: ${keyWords(note)}. ${more} ${who}: ${keyWords(person)}. Stop it all: ${anyOf(plan.stop)}.`.replaceAll(
      "  ",
      " ",
    ),
  );
};

/** How the answer before is undone, as a sentence behind another one; "" where it cannot be undone. */
export const undoWords = ({ plan, session }: Pick<AloneSight, "plan" | "session">): string =>
  canTakeBack(session) ? ` Undo the answer before: ${keyWords(plan.letters.undo)}.` : "";

/** Says why the last key did not answer; nothing where it did. */
export const refusedLines = ({ refused }: Pick<Sight, "refused">): readonly Line[] =>
  said(refused === undefined ? "" : REFUSED[refused], "alert");

const REFUSED = {
  "too soon": "! That key came before this page could be read. Press it again.",
  "still held": "! That key was still held down. Let go, wait a second, then press it.",
} as const;

import stringWidth from "string-width";
import { charactersIn } from "../domain/problem/shown-text.ts";

/**
 * Text set into columns of a terminal, as Unicode counts them (UAX #11): a wide character takes two, a combining mark
 * none, and no character is cut in two.
 */

/** How many columns of a terminal a text takes. */
export const widthOf = (text: string): number => stringWidth(text);

/** Breaks text at blanks into lines of at most `width` columns; a word that is longer stands alone. */
export const wrapped = (text: string, width: number): readonly string[] =>
  text.split("\n").flatMap((line) => {
    const rows = [""];
    for (const word of line.split(" ")) {
      const row = rows.at(-1) ?? "";
      const longer = row === "" ? word : `${row} ${word}`;
      if (row === "" || widthOf(longer) <= width) rows[rows.length - 1] = longer;
      else rows.push(word);
    }
    return rows.map((row) => row.trimEnd());
  });

/**
 * Breaks a text into lines of at most `width` columns, with a mark before the first line and the others set in under it.
 */
export const hanging = (mark: string, text: string, width: number): readonly string[] =>
  wrapped(text, width - widthOf(mark)).map((line, index) => (index === 0 ? mark : " ".repeat(widthOf(mark))) + line);

/** The text with blanks after it up to `columns`; a longer one stays as it is. */
export const padded = (text: string, columns: number): string =>
  text + " ".repeat(Math.max(0, columns - widthOf(text)));

/** As much of the text as fits into `columns`, with dots where something was left out. */
export const cut = (text: string, columns: number): string => {
  if (widthOf(text) <= columns) return text;
  let kept = "";
  for (const character of charactersIn(text)) {
    if (widthOf(kept + character) > columns - 3) break;
    kept += character;
  }
  return `${kept}...`;
};

/** Breaks long lines at blanks, each set in as far as its line began: for a terminal, which would break words. */
export const fittedText = (text: string, columns: number): string =>
  text
    .split("\n")
    .flatMap((line) => {
      const [indent = ""] = /^ */.exec(line) ?? [];
      return widthOf(line) <= columns ? [line] : hanging(indent, line.slice(indent.length), columns);
    })
    .join("\n");

/**
 * Text from outside (serial numbers, notes, file names, port names) as it may be shown: control and escape characters, line
 * breaks and characters that hide or reorder text are shown as what they are and do nothing.
 */
export const safeText = (text: string): string =>
  text.replace(UNSAFE, (character) => NAMED[character] ?? codeOf(character));

/** Makes a text of many lines safe to print as `safeText` does; its line breaks stay. */
export const safeLines = (text: string): string => text.split(/\r?\n/).map(safeText).join("\n");

/** Unicode general categories: controls, format characters (bidirectional, zero-width), separators of lines, lone surrogates. */
const UNSAFE = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]/gu;

const NAMED: Readonly<Record<string, string>> = { "\n": "\\n", "\r": "\\r", "\t": " " };
const codeOf = (character: string): string => `\\u${(character.codePointAt(0) ?? 0).toString(16).padStart(4, "0")}`;

/** What a reader takes for one character each: letters with their marks, pictures of several parts (Unicode UAX #29). */
export const charactersIn = (text: string): readonly string[] =>
  [...new Intl.Segmenter().segment(text)].map(({ segment }) => segment);

/** The first characters of a text, `most` at most, counted as a reader counts them (`charactersIn`). */
export const firstCharacters = (text: string, most: number): string => charactersIn(text).slice(0, most).join("");

/** A stretch of text: `words` from right to left, or anything else. */
export interface DirectedText {
  readonly text: string;
  readonly direction: "right to left" | "as the page";
}

/** Letters of the scripts that run from right to left (Unicode, Scripts.txt; those in modern use). */
const LETTER =
  "[\\p{Script=Hebrew}\\p{Script=Arabic}\\p{Script=Syriac}\\p{Script=Thaana}\\p{Script=Nko}\\p{Script=Adlam}]";
/** What may stand inside a name; a comma or a colon ends it. */
const INSIDE = "[\\p{M}\\p{Nd} ._/'-]*";
const WORDS = new RegExp(`(${LETTER}(?:${INSIDE}${LETTER})*\\p{M}*(?:[._/-]?\\p{Nd}+)*)`, "gu");

/**
 * The whole text in its order, in stretches of one direction. Without a direction of their own, words from right to left
 * draw figures and marks beside them to their side, so that "NAME, 3 runs" reads in another order (Unicode UAX #9).
 */
export const stretchesOf = (text: string): readonly DirectedText[] =>
  text
    .split(WORDS)
    .map((part, at): DirectedText => ({ text: part, direction: at % 2 === 1 ? "right to left" : "as the page" }))
    .filter((part) => part.text !== "");

/** First strong isolate, pop directional isolate. */
const [FSI, PDI] = ["\u2068", "\u2069"];

/**
 * The text with each stretch of its own direction shut in by the marks of Unicode UAX #9,
 * for whoever shows text but no markup.
 */
export const isolated = (text: string): string =>
  stretchesOf(text)
    .map((part) => (part.direction === "right to left" ? `${FSI}${part.text}${PDI}` : part.text))
    .join("");

/**
 * Text from outside (serial numbers, notes, file names, port names), made safe to print: control and escape characters,
 * line breaks and characters that hide or reorder text are shown as what they are and do nothing.
 */
export const safeText = (text: string): string =>
  text.replace(UNSAFE, (character) => NAMED[character] ?? codeOf(character));

/** Makes a text of many lines safe to print as `safeText` does; its line breaks stay. */
export const safeLines = (text: string): string => text.split(/\r?\n/).map(safeText).join("\n");

/** Unicode general categories: controls, format characters (bidirectional, zero-width), separators of lines, lone surrogates. */
const UNSAFE = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]/gu;

const NAMED: Readonly<Record<string, string>> = { "\n": "\\n", "\r": "\\r", "\t": " " };
const codeOf = (character: string): string => `\\u${(character.codePointAt(0) ?? 0).toString(16).padStart(4, "0")}`;

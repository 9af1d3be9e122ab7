import { STATE_WORDS, type Standing } from "../run/release/standing.ts";

/** Where the fixture stands, and everything against signing it back. */
export const standingInWords = ({ state, reasons, signed }: Standing): readonly string[] => [
  signed === undefined ? STATE_WORDS[state] : `${STATE_WORDS[state]}, signed by ${signed}`,
  ...reasons.map(({ words }) => words),
];

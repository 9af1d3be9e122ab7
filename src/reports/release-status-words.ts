import { type ReleaseStatus, STATE_WORDS } from "../run/release/release-status.ts";

/** Where the fixture stands, and everything against signing it back. */
export const releaseStatusInWords = ({ state, reasons, signed }: ReleaseStatus): readonly string[] => [
  signed === undefined ? STATE_WORDS[state] : `${STATE_WORDS[state]}, signed by ${signed}`,
  ...reasons.map(({ words }) => words),
];

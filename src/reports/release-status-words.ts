import { type ReleaseStatus, STATE_WORDS } from "../run/release/release-status.ts";

/** The status of a fixture, and everything that blocks its release, a line each. */
export const releaseStatusInWords = ({ state, reasons, signed }: ReleaseStatus): readonly string[] => [
  signed === undefined ? STATE_WORDS[state] : `${STATE_WORDS[state]}, signed by ${signed}`,
  ...reasons.map(({ words }) => words),
];

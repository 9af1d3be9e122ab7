import type { Row } from "./rows.ts";

/** What is said round the rows of the fixtures. */
export interface Told {
  readonly headline: string;
  /** In as few letters as can be, for large ones. */
  readonly far: string;
  /** At the right edge of the first row. */
  readonly where: string;
  readonly above: readonly Row[];
  readonly below: readonly Row[];
}

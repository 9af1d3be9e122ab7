import type { Probability } from "../../domain/units.ts";

/** What is known for certain of one fixture that was mended, and what was seen on it before. Plain data. */
export interface Case {
  /** Everything that was observed, reported or not; what was not observed is left out. */
  readonly findings: readonly CaseFinding[];
  /** Found to be there. */
  readonly confirmed: readonly string[];
  /** Looked for and not there. */
  readonly cleared: readonly string[];
  /** The faults that nobody looked for: unknown, unless the fixture passed a full test afterwards. */
  readonly rest: "unknown" | "absent";
}

export interface CaseFinding {
  readonly id: string;
  readonly seen: boolean;
  /** By confirmed fault: how surely the watching would have caught what it showed. Left out: certainly. */
  readonly chance: Readonly<Record<string, Probability>>;
}

/** Known not to have been there. */
export const isAbsent = (fault: string, { confirmed, cleared, rest }: Case): boolean =>
  !confirmed.includes(fault) && (rest === "absent" || cleared.includes(fault));

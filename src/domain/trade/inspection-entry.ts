import type { CoverId } from "./covers.ts";
import type { MechanismId } from "./mechanisms.ts";

/** A look by hand: what to look at, what good and bad look like, what must come off first, how long. Words, no probabilities. */
export interface InspectionEntry {
  readonly look: string;
  readonly good: string;
  readonly bad: string;
  readonly cover: CoverId;
  /** Beyond the opening of its cover. */
  readonly minutes: number;
  readonly on: MechanismId;
}

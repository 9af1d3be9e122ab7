import { keysOf } from "../keys.ts";
import type { MechanismId } from "./mechanisms.ts";

/**
 * Confirmations by a person without which the work does not go on. `before` says what they guard. The maker's manual and
 * local rules go before these words; common practice, no source.
 */
export const HOLD_POINTS = {
  unplugged: { words: "mains plug out; fixture stands firm and cannot roll or fall", before: "touching" },
  still: { words: "powered, beam shut, standing still; hands stay off everything but the panel", before: "the panel" },
  "area-clear": {
    words: "nobody within reach of the swing, nothing in the way, isolator named and within reach",
    before: "movement",
  },
  isolated: { words: "power isolated, locked off and proved dead", before: "opening" },
  "stored-charge": { words: "stored charge gone, as the maker's manual says for this fixture", before: "opening" },
  cool: { words: "cool enough to touch; with a lamp inside: face shield and gloves, it can burst", before: "opening" },
  "cover-removed": {
    words:
      "cover off, its safety wire hung, its screws set aside; over a laser or ultraviolet source only by who is trained for it",
    before: "opening",
  },
  "nothing-loose": { words: "no tool, screw or rag left inside, every plug pressed home", before: "power returns" },
  "covers-on": { words: "all covers on and every screw in", before: "power returns" },
} as const;

export type HoldPointId = keyof typeof HOLD_POINTS;
export const HOLD_POINT_IDS = keysOf(HOLD_POINTS);

/** What is confirmed at a hold point, as the page asks it. */
export const holdPointWords = (id: HoldPointId): string => HOLD_POINTS[id].words;

/** Once per opening, in this order, and all of them again if power returned in between. */
export const OPENING = ["isolated", "stored-charge", "cool", "cover-removed"] as const satisfies readonly HoldPointId[];
/** Before power returns, in this order. That the area is clear is asked before anything moves, after the last work by hand. */
export const CLOSING = ["nothing-loose", "covers-on"] as const satisfies readonly HoldPointId[];

/** What must come off before a look, how long that takes there and back, and what is confirmed first. Common practice, no source. */
export const COVERS = {
  outside: { words: "from outside, unplugged", minutes: 0, holds: ["unplugged"] },
  panel: { words: "at the panel, powered", minutes: 0, holds: ["still"] },
  base: { words: "base covers", minutes: 4, holds: OPENING },
  yoke: { words: "yoke covers", minutes: 5, holds: OPENING },
  head: { words: "head covers", minutes: 3, holds: OPENING },
  module: { words: "head covers, and the module lifted out", minutes: 10, holds: OPENING },
} as const satisfies Readonly<
  Record<string, { readonly words: string; readonly minutes: number; readonly holds: readonly HoldPointId[] }>
>;

export type CoverId = keyof typeof COVERS;
export const COVER_IDS = keysOf(COVERS);

/** A cover as screens and sheets say it. */
export const coverWords = (id: CoverId): string => COVERS[id].words;

/** An inspection: what to look at, what good and bad look like, what must come off first, how long. Words, no probabilities. */
export interface InspectionEntry {
  readonly look: string;
  readonly good: string;
  readonly bad: string;
  readonly cover: CoverId;
  /** Beyond the opening of its cover. */
  readonly minutes: number;
  readonly on: MechanismId;
}

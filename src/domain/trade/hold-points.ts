import { keysOf } from "../keys.ts";
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

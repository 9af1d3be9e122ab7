import type { TravelWay } from "./pass.ts";
import type { Pattern } from "./pattern.ts";

/** A pattern as a technician says it, without the place. */
export const patternWords = (pattern: Pattern): string => {
  switch (pattern.kind) {
    case "position":
      return "both ways";
    case "one-way":
      return `only on the way ${wayWords(pattern.way)}`;
    case "low-end":
      return "only on coming to the low end";
    case "high-end":
      return "only on coming to the high end";
    case "both-ends":
      return "only on coming to an end, either of them";
    case "turn-rounds":
      return "whenever it reverses, wherever that is";
    case "no-place":
      return "in changing places, tied to none";
  }
};

/** A way of a travel in words. */
export const wayWords = (way: TravelWay): string => (way === "up" ? "up (DMX rising)" : "down (DMX falling)");

/** The same for a sentence that names several: "one place" or "one direction". */
export const guessWords = (pattern: Pattern): string => GUESSES[pattern.kind];

const GUESSES: Readonly<Record<Pattern["kind"], string>> = {
  position: "one place, both ways",
  "one-way": "one direction only",
  "low-end": "the low end",
  "high-end": "the high end",
  "both-ends": "both ends",
  "turn-rounds": "the reversal",
  "no-place": "no place",
};

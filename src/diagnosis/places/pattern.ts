import type { TravelWay } from "./pass.ts";

/** What presses can be tied to. */
export type Pattern =
  /** The same place, both ways. */
  | { readonly kind: "position" }
  /** One way only: at one place, or all along. */
  | { readonly kind: "one-way"; readonly way: TravelWay }
  | { readonly kind: "low-end" }
  | { readonly kind: "high-end" }
  | { readonly kind: "both-ends" }
  /** Every change of direction, wherever it is: play, not a place. */
  | { readonly kind: "turn-rounds" }
  /** Now here, now there. */
  | { readonly kind: "no-place" };

export type PatternKind = Pattern["kind"];

/** All of them; each kind is as likely as another beforehand. */
export const PATTERNS: readonly Pattern[] = [
  { kind: "position" },
  { kind: "one-way", way: "up" },
  { kind: "one-way", way: "down" },
  { kind: "low-end" },
  { kind: "high-end" },
  { kind: "both-ends" },
  { kind: "turn-rounds" },
  { kind: "no-place" },
];

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

/** A pattern in a few words, for a sentence that names several: "one place" or "one direction". */
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

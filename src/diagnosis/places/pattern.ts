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

import { type CoverId, coverWords } from "./covers.ts";
import { type InspectionId, inspection } from "./inspections.ts";
import { type ReadingId, reading } from "./readings.ts";

/** One thing that a level of release asks for. */
export type Need =
  /** Every step of this sequence has passed. */
  | { readonly kind: "sequence"; readonly name: string }
  | { readonly kind: "inspection"; readonly name: InspectionId }
  /** In limit and signed. */
  | { readonly kind: "measurement"; readonly name: ReadingId }
  /** Every inspection behind this cover is answered good. */
  | { readonly kind: "cover"; readonly name: CoverId }
  /** The whole check-in, signed. */
  | { readonly kind: "full"; readonly name: "check" };

/** What is still due, in words: "sequence quick", "yoke covers", "electrical safety test". */
export const needInWords = (need: Need): string => {
  switch (need.kind) {
    case "sequence":
      return `sequence ${need.name}`;
    case "inspection":
      return inspection(need.name).look;
    case "measurement":
      return reading(need.name).words;
    case "cover":
      return `inspections behind ${coverWords(need.name)}`;
    case "full":
      return "full check";
    default:
      return need satisfies never;
  }
};

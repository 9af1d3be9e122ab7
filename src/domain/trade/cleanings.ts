import type { CoverId } from "./covers.ts";
import type { InspectionId } from "./inspections.ts";
import type { MechanismId } from "./mechanisms.ts";

/**
 * What is cleaned, with what, in which order. A pad is a lint-free sterile gauze; both its sides are used, and it may be
 * cut in half. Common practice, no source.
 */
export interface CleaningEntry {
  readonly what: string;
  /** Due on a fixture with any of these mechanisms. */
  readonly on: readonly MechanismId[];
  readonly cover: CoverId;
  /** For ordinary grime. Pads of one place never go to another. */
  readonly pads: number;
  readonly wetWith: "alcohol or lens fluid" | "nothing";
  /** Beyond the opening of the cover. */
  readonly minutes: number;
  readonly how: string;
}

const WIPE =
  "wet the pad, never the glass; one direction in straight lines, never in circles; then a dry pad the same way";

export const CLEANINGS = {
  dust: {
    what: "filters, heat sink, dust in the head",
    on: ["cooling"],
    cover: "head",
    pads: 0,
    wetWith: "nothing",
    minutes: 5,
    how: "vacuum and brush; hold the fans still; compressed air only when time forces it",
  },
  flags: {
    what: "colour flags",
    on: ["colour-flags"],
    cover: "head",
    pads: 1,
    wetWith: "alcohol or lens fluid",
    minutes: 4,
    how: WIPE,
  },
  wheels: {
    what: "colour wheel and gobos",
    on: ["colour-wheel", "fixed-gobo-wheel", "rotating-gobo-wheel", "effect-wheel"],
    cover: "head",
    pads: 1,
    wetWith: "alcohol or lens fluid",
    minutes: 5,
    how: WIPE,
  },
  "prism-and-frost": {
    what: "prism and frost",
    on: ["prism", "frost"],
    cover: "head",
    pads: 0.5,
    wetWith: "alcohol or lens fluid",
    minutes: 2,
    how: WIPE,
  },
  "light-pipe": {
    what: "light pipe or condenser",
    on: ["optics"],
    cover: "head",
    pads: 0.5,
    wetWith: "alcohol or lens fluid",
    minutes: 2,
    how: WIPE,
  },
  "inner-lenses": {
    what: "zoom and focus lenses",
    on: ["zoom", "focus"],
    cover: "head",
    pads: 2,
    wetWith: "alcohol or lens fluid",
    minutes: 5,
    how: WIPE,
  },
  "front-lens": {
    what: "front lens",
    on: ["optics"],
    cover: "outside",
    pads: 1,
    wetWith: "alcohol or lens fluid",
    minutes: 2,
    how: WIPE,
  },
} as const satisfies Readonly<Record<string, CleaningEntry>>;

export type CleaningId = keyof typeof CLEANINGS;
/** In the order of work: dust first, the front lens last. */
export const CLEANING_IDS = Object.keys(CLEANINGS) as readonly CleaningId[];
export const cleaning = (id: CleaningId): CleaningEntry => CLEANINGS[id];

/** Looks that only cleaning can make good: they are looked at again after it. Common practice, no source. */
const SHOWN_CLEAN: Readonly<Record<CleaningId, readonly InspectionId[]>> = {
  dust: ["dust-filters"],
  flags: ["flag-glass"],
  wheels: ["filters"],
  "prism-and-frost": ["prism-glass"],
  "light-pipe": ["light-pipe"],
  "inner-lenses": ["inner-lenses"],
  "front-lens": ["front-lens"],
};
export const looksAfter = (id: CleaningId): readonly InspectionId[] => SHOWN_CLEAN[id];

/** What a fixture with these mechanisms has to clean, in the order of work. */
export const cleaningsOf = (fitted: ReadonlySet<MechanismId>): readonly CleaningId[] =>
  CLEANING_IDS.filter((id) => cleaning(id).on.some((mechanism) => fitted.has(mechanism)));

/** How dirty a fixture came back, and how many times the pads of ordinary grime that takes. Common practice, no source. */
export const GRIME = {
  light: { words: "light: dust only", padsTimes: 0.5 },
  ordinary: { words: "ordinary: haze and dust", padsTimes: 1 },
  heavy: { words: "heavy: fluid residue", padsTimes: 2 },
  pyrotechnic: { words: "pyrotechnic residue: it scratches, more pads, no rubbing", padsTimes: 3 },
} as const;
export type GrimeId = keyof typeof GRIME;
export const GRIME_IDS = Object.keys(GRIME) as readonly GrimeId[];

/** Said with every cleaning plan. The fluid's safety data sheet and local rules go before these words. */
export const CLEANING_CAUTIONS = [
  "alcohol and lens fluid burn and their vapour is heavier than air: ventilate, no flame, no hot lamp",
  "enough on the pad to wet, not so much that it drips",
  "let it evaporate before power returns",
  "a fan spun by air drives current back into the electronics: hold every fan still",
  "glass of flags and filters is sharp: gloves and eye protection",
] as const;

import { keysOf } from "../keys.ts";
import type { CoverId } from "./hold-points.ts";
import type { InspectionId } from "./inspections.ts";
import type { MechanismId } from "./mechanisms.ts";

/** What is cleaned, with what, in which order. Common practice, no source. */
export interface CleaningEntry {
  readonly what: string;
  /** Due on a fixture with any of these mechanisms. */
  readonly on: readonly MechanismId[];
  readonly cover: CoverId;
  /** For ordinary dirt. */
  readonly pads: number;
  readonly wetWith: "alcohol or lens fluid" | "nothing";
  /** For ordinary dirt, beyond the opening of the cover. */
  readonly minutes: number;
  readonly how: string;
  /** With dust only: cleaned every time, or only where the torch shows a film on it. */
  readonly withDustOnly: "always" | "where a film shows";
}

const WIPE =
  "fluid on the pad, not on the glass; wipe from edge to edge, always the same way; then the same with a dry pad";

const CLEANINGS = {
  dust: {
    what: "filters, heat sink, dust in the head",
    on: ["cooling"],
    cover: "head",
    pads: 0,
    wetWith: "nothing",
    minutes: 5,
    how: "vacuum and soft brush; block every fan first",
    withDustOnly: "always",
  },
  flags: {
    what: "colour flags",
    on: ["colour-flags"],
    cover: "head",
    pads: 1,
    wetWith: "alcohol or lens fluid",
    minutes: 4,
    how: WIPE,
    withDustOnly: "where a film shows",
  },
  wheels: {
    what: "colour wheel and gobos",
    on: ["colour-wheel", "fixed-gobo-wheel", "rotating-gobo-wheel", "effect-wheel"],
    cover: "head",
    pads: 1,
    wetWith: "alcohol or lens fluid",
    minutes: 5,
    how: `${WIPE}; only when there is no time to wipe: air from a can at the wheels, with every fan blocked`,
    withDustOnly: "where a film shows",
  },
  "prism-and-frost": {
    what: "prism and frost",
    on: ["prism", "frost"],
    cover: "head",
    pads: 0.5,
    wetWith: "alcohol or lens fluid",
    minutes: 2,
    how: WIPE,
    withDustOnly: "where a film shows",
  },
  "light-pipe": {
    what: "light pipe or condenser",
    on: ["optics"],
    cover: "head",
    pads: 0.5,
    wetWith: "alcohol or lens fluid",
    minutes: 2,
    how: WIPE,
    withDustOnly: "always",
  },
  "inner-lenses": {
    what: "zoom and focus lenses",
    on: ["zoom", "focus"],
    cover: "head",
    pads: 2,
    wetWith: "alcohol or lens fluid",
    minutes: 5,
    how: WIPE,
    withDustOnly: "where a film shows",
  },
  "front-lens": {
    what: "front lens",
    on: ["optics"],
    cover: "outside",
    pads: 1,
    wetWith: "alcohol or lens fluid",
    minutes: 2,
    how: WIPE,
    withDustOnly: "always",
  },
} as const satisfies Readonly<Record<string, CleaningEntry>>;

export type CleaningId = keyof typeof CLEANINGS;
/** In the order of work: dust first, the front lens last. */
export const CLEANING_IDS = keysOf(CLEANINGS);

/** What is known of a cleaning. */
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

/** The inspections that are due again after a cleaning; none for most. */
export const looksAfter = (id: CleaningId): readonly InspectionId[] => SHOWN_CLEAN[id];

/** What a fixture with these mechanisms has to clean, in the order of work. */
export const cleaningsOf = (fitted: ReadonlySet<MechanismId>): readonly CleaningId[] =>
  CLEANING_IDS.filter((id) => cleaning(id).on.some((mechanism) => fitted.has(mechanism)));

/** How dirty a fixture came back, and how many times the pads of ordinary dirt that takes. Common practice, no source. */
export const DIRT = {
  light: { words: "dust only", padsTimes: 1, said: "glass is wiped only where the torch shows a film" },
  ordinary: { words: "haze and dust", padsTimes: 1, said: "" },
  heavy: { words: "residue of haze or fog fluid", padsTimes: 2, said: "wipe twice, each time with a new pad" },
  pyrotechnic: {
    words: "residue of pyrotechnics",
    padsTimes: 3,
    said: "the residue scratches glass: dab it off with more pads, do not rub",
  },
} as const;
export type DirtId = keyof typeof DIRT;
export const DIRT_IDS = keysOf(DIRT);

/** What is due for this much dirt: all that is fitted; with dust only what collects it, and glass where a film was seen. */
export const cleaningsDue = (
  fitted: ReadonlySet<MechanismId>,
  dirt: DirtId,
  isFilmSeen: (id: CleaningId) => boolean,
): readonly CleaningId[] =>
  cleaningsOf(fitted).filter((id) => dirt !== "light" || cleaning(id).withDustOnly === "always" || isFilmSeen(id));

/** Pads and minutes of one place for this much dirt. More dirt takes more pads, and so more time; half a pad is the least that is counted. */
export const effortOf = (id: CleaningId, dirt: DirtId): { readonly pads: number; readonly minutes: number } => {
  const { pads, minutes } = cleaning(id);
  const { padsTimes } = DIRT[dirt];
  return { pads: Math.ceil(pads * padsTimes * 2) / 2, minutes: minutes * padsTimes };
};

/** How pads are used, with the reason. Common practice, no source. */
export const PAD_RULES = [
  "lint-free sterile gauze, taken from its sealed pack when it is needed; use both sides; half a pad will do for small glass",
  "no paper towel, no shirt or rag: fibres stay on the glass, and some scratch its coating",
  "a pad that was used at one place is not used at another: it would carry the dirt along",
  "fluid goes on the pad only: on the glass it runs under the holder and into bearings and sensors",
  "the pad is damp, it does not drip",
] as const;

/** Said with every cleaning plan. The fluid's safety data sheet and local rules go before these words. */
export const CLEANING_CAUTIONS = [
  "alcohol and lens fluid burn and their vapour is heavier than air: ventilate, no flame, no hot lamp; safety data sheet first",
  "no power before all fluid has dried off",
  "a fan that an air stream turns works as a generator and can destroy its driver: block the blades",
  "glass of flags and filters is sharp: gloves and eye protection",
] as const;

/**
 * What is measured by hand. `signed`: only a competent person may take it, and puts initials to it. No limit stands here:
 * it is the local rule's and the maker's manual's. Common practice, no source.
 */
export interface ReadingEntry {
  readonly words: string;
  readonly unit: string;
  readonly how: string;
  readonly signed: "by a competent person" | "by whoever reads it";
}

export const READINGS = {
  "earth-continuity": {
    words: "earth continuity from base to yoke to head",
    unit: "ohm",
    how: "mains plug out; from the earth pin to bare metal of base, yoke and head, while yoke and head are moved",
    signed: "by a competent person",
  },
  "electrical-safety": {
    words: "electrical safety test",
    unit: "",
    how: "all covers on; as the local rule says, with a tester in date; the value is the tester's record number, if it has one",
    signed: "by a competent person",
  },
  "source-hours": {
    words: "hours of the light source",
    unit: "h",
    how: "from the panel menu, powered, hands off everything else",
    signed: "by whoever reads it",
  },
} as const satisfies Readonly<Record<string, ReadingEntry>>;

export type ReadingId = keyof typeof READINGS;
export const READING_IDS = Object.keys(READINGS) as readonly ReadingId[];
export const reading = (id: ReadingId): ReadingEntry => READINGS[id];

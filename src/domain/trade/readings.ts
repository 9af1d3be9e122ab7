import { keysOf } from "../keys.ts";
/**
 * What is measured by hand. `signed`: only a competent person may take it, and puts initials to it. No limit stands here:
 * it is the local rule's and the maker's manual's. Common practice, no source.
 */
export interface ReadingEntry {
  readonly words: string;
  readonly unit: string;
  readonly how: string;
  readonly signed: "by a competent person" | "by whoever reads it";
  readonly minutes: number;
  /** Without a value it counts for nothing. */
  readonly value: "needed" | "as it comes";
  /** No such thing reads more than this: a slip of the keys, or another unit. */
  readonly atMost: number;
}

export const READINGS = {
  "earth-continuity": {
    words: "earth continuity from base to yoke to head",
    unit: "ohm",
    how: "mains plug out; from the earth pin to bare metal of base, yoke and head, while yoke and head are moved",
    signed: "by a competent person",
    minutes: 2,
    value: "needed",
    atMost: 5,
  },
  "electrical-safety": {
    words: "electrical safety test",
    unit: "",
    how: "all covers on; as the local rule says, with a tester in date; the value is the tester's record number, if it has one",
    signed: "by a competent person",
    minutes: 3,
    value: "as it comes",
    atMost: Number.POSITIVE_INFINITY,
  },
  "source-hours": {
    words: "hours of the light source",
    unit: "h",
    how: "from the panel menu, powered, hands off everything else",
    signed: "by whoever reads it",
    minutes: 0.5,
    value: "as it comes",
    atMost: 200_000,
  },
} as const satisfies Readonly<Record<string, ReadingEntry>>;

export type ReadingId = keyof typeof READINGS;
export const READING_IDS = keysOf(READINGS);

/** What is known of a measurement: unit, limit, who may sign for it. */
export const reading = (id: ReadingId): ReadingEntry => READINGS[id];

/**
 * Why a value cannot be what was measured within the limit, in words; undefined when it can. `value` is in the unit of the
 * reading, undefined where none was written down.
 */
export const valueTrouble = (id: ReadingId, value: number | undefined): string | undefined => {
  const { value: wanted, atMost, unit } = reading(id);
  if (value === undefined) return wanted === "needed" ? "no value was written down" : undefined;
  return value > atMost ? `${value} ${unit} cannot be within any limit` : undefined;
};

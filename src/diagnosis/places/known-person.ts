import { UNKNOWN } from "./beliefs.ts";
import type { PersonConstants } from "./constants.ts";
import type { Unknowns } from "./likelihood.ts";
import { reactionOf } from "./reaction.ts";
import { type Quickness, USUAL_QUICKNESS } from "./stopwatch.ts";

/** What to reckon with for this person: their own reaction and misses once there are presses enough, else what is usual. */
export const unknownsOf = (person: PersonConstants | undefined): Unknowns => {
  if (!person?.enough) return UNKNOWN;
  const { low, high } = person.missed;
  return {
    ...UNKNOWN,
    reaction: reactionOf(person.reaction),
    // The person is known to about this; the rest is the fixture's own lag.
    shifts: UNKNOWN.shifts.filter((shift) => Math.abs(shift) <= 0.25),
    caught: [1 - high, 1 - (low + high) / 2, 1 - low].map((share) => Math.min(0.99, Math.max(0.3, share))),
  };
};

/** The same for a stopwatch. */
export const quicknessOf = (person: PersonConstants | undefined): Quickness =>
  person?.enough ? { mean: person.reaction, error: 0.12 / Math.sqrt(person.presses) } : USUAL_QUICKNESS;

/** "0.43 s (62 presses), misses 5 of 70 (3 to 16 %)", or that there is too little yet. */
export const personWords = ({ reaction, presses, missed, enough }: PersonConstants): string => {
  const percent = (share: number) => Math.round(100 * share);
  const said = `presses after ${reaction.toFixed(2)} s (${presses} presses), misses ${missed.hits} of ${missed.of} (${percent(missed.low)} to ${percent(missed.high)} %)`;
  return enough ? said : `${said}: too few yet, the usual values are used`;
};

import { UNKNOWN } from "./beliefs.ts";
import { type Constants, NOTHING_MEASURED, type PersonConstants } from "./constants.ts";
import { reactionOf } from "./delay.ts";
import type { Unknowns } from "./likelihood.ts";
import { type Quickness, USUAL_QUICKNESS } from "./stopwatch.ts";
import type { Watch } from "./watch.ts";

/** What a calculation of presses takes for this person at this kind of fixture: measured where there is enough, else what is usual. */
export interface Known {
  readonly unknowns: Unknowns;
  readonly quickness: Quickness;
  /** A watch with the fixture's lag as it was measured at the speed of this watch. */
  readonly measured: (watch: Watch) => Watch;
  /** How quick the person is and from how many presses; undefined while there is none. */
  readonly words: string | undefined;
}

/**
 * What the shop knows of a person at a kind of fixture.
 *
 * @param person - initials; empty when nobody gave any
 * @param profile - the kind, as `kindOf` names it
 * @returns what is usual, wherever too little was measured
 */
export const knownOf = ({ people, lags }: Constants, person: string, profile: string): Known => {
  const known = person === "" ? undefined : people.find((one) => one.person === person);
  const lagOf = ({ passes }: Watch) => {
    const speed = Math.round(Math.abs(passes[0]?.velocity ?? 0));
    return lags.find((one) => one.enough && one.profile === profile && one.speed === speed)?.lag;
  };
  return {
    unknowns: unknownsOf(known),
    quickness: quicknessOf(known),
    measured: (watch) => ({ ...watch, lag: lagOf(watch) ?? watch.lag }),
    words: known && `${person} ${personWords(known)}`,
  };
};

/**
 * The kind of fixture under which delays are kept. A simulated fixture is another kind than the one it stands for: what it
 * teaches of lag says nothing of real ones.
 */
export const kindOf = ({ name, simulated }: { readonly name: string; readonly simulated: boolean }): string =>
  simulated ? `${name}, simulated` : name;

/**
 * What to calculate with for this person: their own reaction and misses once there are presses enough, else what is usual.
 */
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

/** How quickly this person presses at a stopwatch: their own mean once there are presses enough, else what is usual. */
export const quicknessOf = (person: PersonConstants | undefined): Quickness =>
  person?.enough ? { mean: person.reaction, error: 0.12 / Math.sqrt(person.presses) } : USUAL_QUICKNESS;

/**
 * What is known of a person's presses, in words: "0.43 s (62 presses), misses 5 of 70 (3 to 16
 * %)", or that there is too little yet.
 */
export const personWords = ({ reaction, presses, missed, enough }: PersonConstants): string => {
  const percent = (share: number) => Math.round(100 * share);
  const said = `presses after ${reaction.toFixed(2)} s (${presses} presses), misses ${missed.hits} of ${missed.of} (${percent(missed.low)} to ${percent(missed.high)} %)`;
  return enough ? said : `${said}: too few yet, the usual values are used`;
};

/** Nobody and nothing measured. */
export const USUAL: Known = knownOf(NOTHING_MEASURED, "", "");

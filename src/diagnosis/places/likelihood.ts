import type { Probability, Seconds } from "../../domain/units.ts";
import { type Reaction, reachOf, reactionDensity } from "./delay.ts";
import { type Chain, type Claims, chainSum, chainsOf } from "./pairing.ts";
import type { Watch } from "./watch.ts";

/** What is not known of the person and the fixture: summed over, each value as likely as another. */
export interface Unknowns {
  readonly reaction: Reaction;
  /** How much later than reaction and the profile's lag say. */
  readonly shifts: readonly Seconds[];
  /** How surely an event brings a press. */
  readonly caught: readonly Probability[];
  /** Presses for nothing, a second. */
  readonly stray: readonly number[];
}

/** Times at which something happens, for each watch. */
export type Events = readonly (readonly Seconds[])[];

/**
 * Prepares the question how likely the presses of these watches are, as a logarithm, if something happens at certain times;
 * the lag of the profile is added to them here. False presses come at an even rate, each event brings one press at most and
 * no press is brought twice.
 */
export const likelihoodOf = (watches: readonly Watch[], unknowns: Unknowns): ((events: Events) => number) => {
  const mistakes = unknowns.stray.flatMap((stray) =>
    unknowns.caught.map((caught) => ({
      caught,
      stray,
      miss: Math.log(1 - caught),
      none: strayLog(totalOf(watches), stray),
    })),
  );
  const terms = new Array<number>(unknowns.shifts.length * mistakes.length);
  return (events) => {
    const late = watches.map((watch, i) => latenessOf(watch, events[i] ?? [], unknowns));
    const count = late.reduce((sum, ones) => sum + ones.length, 0);
    let n = 0;
    for (const shift of unknowns.shifts) {
      const chains = late.flatMap((ones) => chainsOf(claimsAt(ones, unknowns.reaction, shift)));
      const missed = count - chains.reduce((sum, chain) => sum + chain.length, 0);
      for (const { caught, stray, miss, none } of mistakes)
        terms[n++] = none + missed * miss + chainsLog(chains, caught, stray);
    }
    return logMean(terms);
  };
};

/**
 * How likely these presses in this time are, as a natural logarithm, if all of them were for nothing: a Poisson process.
 * `rate` is in presses per second, above 0.
 */
export const strayLog = ({ presses, time }: Total, rate: number): number => presses * Math.log(rate) - rate * time;

export interface Total {
  readonly presses: number;
  readonly time: Seconds;
}

/** All presses of these watches, and the seconds they lasted together. */
export const totalOf = (watches: readonly Watch[]): Total => ({
  presses: watches.reduce((sum, { presses }) => sum + presses.length, 0),
  time: watches.reduce((sum, { from, to }) => sum + to - from, 0),
});

/** The presses that some reaction to an event could explain, and how long after the moved fixture was there they came. */
type Lateness = readonly (readonly [press: number, late: Seconds, give: Seconds])[];

const latenessOf = (
  { lag, presses, gives }: Watch,
  events: readonly Seconds[],
  { reaction, shifts }: Unknowns,
): readonly Lateness[] => {
  const [soonest, latest] = reachOf(reaction);
  const low = soonest + Math.min(...shifts);
  const high = latest + Math.max(...shifts);
  return events.map((event) => {
    const lateness: [number, Seconds, Seconds][] = [];
    presses.forEach((press, i) => {
      const late = press - event - lag;
      const give = gives?.[i] ?? 0;
      if (late > low - give && late < high + give) lateness.push([i, late, give]);
    });
    return lateness;
  });
};

/** Less dense than this, per second, a press is nobody's reaction to the event. */
const OUT_OF_REACH = 1e-6;

/** For each event that somebody may have pressed for, the presses that may be meant. */
const claimsAt = (late: readonly Lateness[], reaction: Reaction, shift: Seconds): readonly Claims[] => {
  const events: Claims[] = [];
  for (const lateness of late) {
    const claims: [number, number][] = [];
    for (const [press, time, give] of lateness) {
      const density = give === 0 ? reactionDensity(reaction, time - shift) : spread(reaction, time - shift, give);
      if (density > OUT_OF_REACH) claims.push([press, density]);
    }
    if (claims.length > 0) events.push(claims);
  }
  return events;
};

/** Anywhere within the give is as likely as elsewhere: the mean density there, from seven points. */
const spread = (reaction: Reaction, time: Seconds, give: Seconds): number =>
  SEVENTHS.reduce((sum, at) => sum + reactionDensity(reaction, time + at * give), 0) / SEVENTHS.length;
const SEVENTHS = [-6, -4, -2, 0, 2, 4, 6].map((at) => at / 7);

/** Multiplied as long as the number stays handy: logarithms cost most of the time. */
const chainsLog = (chains: readonly Chain[], caught: Probability, stray: number): number => {
  let log = 0;
  let product = 1;
  for (const chain of chains) {
    product *= chainSum(chain, caught, stray);
    if (product > 1e200 || product < 1e-200) {
      log += Math.log(product);
      product = 1;
    }
  }
  return log + Math.log(product);
};

/** The logarithm of the mean of numbers that are given as natural logarithms in `logs`. */
export const logMean = (logs: readonly number[]): number => {
  const most = logs.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  if (most === Number.NEGATIVE_INFINITY) return most;
  return most + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - most), 0) / logs.length);
};

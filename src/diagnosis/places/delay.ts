import { complement } from "../../domain/statistics/distributions.ts";
import type { Seconds } from "../../domain/units.ts";
import { type Pass, placeOn } from "./pass.ts";
import type { Watch } from "./watch.ts";

/**
 * How long somebody takes from seeing a thing to pressing: a normal part and a tail (ex-Gaussian), the usual shape of human
 * reaction times.
 */
export interface Reaction {
  /** The mean of the normal part. */
  readonly middle: Seconds;
  readonly spread: Seconds;
  /** Mean of the tail. */
  readonly tail: Seconds;
}

/**
 * Somebody of whom nothing is known. An assumption, in the range that people watching for a defect take: 0.3 to 0.6 s and
 * skewed (judgement; a mere light takes 0.23 s, Woods et al. 2015).
 */
export const USUAL_REACTION: Reaction = { middle: 0.3, spread: 0.05, tail: 0.1 };

/** Mean time from the event to the press, in seconds (of an ex-Gaussian: its middle and its tail together). */
export const meanReaction = ({ middle, tail }: Reaction): Seconds => middle + tail;

/** A reaction with this mean, of the same shape, later or earlier. */
export const reactionOf = (mean: Seconds, shape: Reaction = USUAL_REACTION): Reaction => ({
  ...shape,
  middle: mean - shape.tail,
});

/** How dense in time, per second, reactions of this length are. */
export const reactionDensity = ({ middle, spread, tail }: Reaction, time: Seconds): number => {
  const late = time - middle;
  const cut = (spread / tail - late / spread) / Math.SQRT2;
  return (Math.exp(spread ** 2 / (2 * tail ** 2) - late / tail) * complement(cut)) / (2 * tail);
};

/** The times between which nearly all reactions lie: outside, fewer than one in ten million. */
export const reachOf = ({ middle, spread, tail }: Reaction): readonly [Seconds, Seconds] => [
  middle - 5.2 * spread,
  middle + 5.2 * spread + 16 * tail,
];

/**
 * What to take for the time from the event to the press as long as it is not measured: the profile's lag and the reaction.
 */
export const usualDelay = ({ lag }: Watch, reaction: Reaction): Seconds => lag + meanReaction(reaction);

/** A press put back by a delay: on which pass it fell, and where that pass was then. */
export interface PutBack {
  readonly pass: Pass;
  readonly place: number;
  readonly press: Seconds;
}

/** Every press of a watch, put back; in a pause between two passes it belongs to the nearer one. */
export const putBack = ({ passes, presses }: Watch, delay: Seconds): readonly PutBack[] =>
  presses.flatMap((press) => {
    const pass = nearest(passes, press - delay);
    return pass ? [{ pass, press, place: within(pass, placeOn(pass, press - delay)) }] : [];
  });

const nearest = (passes: readonly Pass[], time: Seconds): Pass | undefined =>
  passes.length === 0 ? undefined : passes.reduce((best, pass) => (off(pass, time) < off(best, time) ? pass : best));
const off = ({ begin, end }: Pass, time: Seconds): Seconds => Math.max(0, begin - time, time - end);

const within = ({ from, to }: Pass, place: number): number =>
  Math.min(Math.max(from, to), Math.max(Math.min(from, to), place));

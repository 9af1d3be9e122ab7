import type { Seconds } from "../../domain/units.ts";
import type { Pass } from "./pass.ts";
import { placeOn } from "./pass.ts";
import { meanReaction, type Reaction } from "./reaction.ts";
import type { Watch } from "./watch.ts";

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

import type { Travel } from "../../data/profile/profile.ts";
import type { PatternBelief } from "./beliefs.ts";

/** Without another hint a short sweep stops so many percent of the travel short of both ends. */
const USUAL_INSET_PCT = 15;

/**
 * How far a short sweep stays from both ends, in percent of the travel: half as far as the place that rivals an end, so that
 * the place is still crossed and the end is not reached.
 */
export const likelyInset = (beliefs: readonly PatternBelief[], { from, to }: Travel): number => {
  const distances = beliefs
    .filter(({ belief, pattern }) => belief > 0.005 && (pattern.kind === "position" || pattern.kind === "one-way"))
    .flatMap(({ place }) => (place ? [100 * distanceFromEnd((place.at - from) / (to - from))] : []));
  return Math.min(USUAL_INSET_PCT, ...distances.map((distance) => Math.max(2, Math.floor(distance / 2))));
};

const distanceFromEnd = (share: number): number => Math.max(0, Math.min(share, 1 - share));

import { beliefsOf, type PatternBelief, UNKNOWN } from "./beliefs.ts";
import { type FoundPlace, foundPlace } from "./found-place.ts";
import type { Unknowns } from "./likelihood.ts";
import { settledIn } from "./settled.ts";
import { type PlacedPress, spotsOf } from "./spots.ts";
import type { Spread } from "./spread.ts";
import type { Watch } from "./watch.ts";

/** What the presses of some watches of one function say: which pattern, and where. */
export interface Assessment {
  readonly watches: readonly Watch[];
  /** The strongest first. */
  readonly beliefs: readonly PatternBelief[];
  /** Undefined: can't say yet. */
  readonly settled: PatternBelief | undefined;
  /** If it is tied to a place both ways: the presses that belong to it, and where that is. */
  readonly spots: readonly PlacedPress[];
  readonly place: FoundPlace | undefined;
}

/** Undefined without a press: silence is judged elsewhere. */
export const assess = (watches: readonly Watch[], unknowns: Unknowns = UNKNOWN): Assessment | undefined => {
  if (watches.every(({ presses }) => presses.length === 0)) return undefined;
  const beliefs = beliefsOf(watches, unknowns);
  const about = beliefs.find(({ pattern }) => pattern.kind === "position")?.place;
  const spots = about ? spotsOf(watches, about.at, unknowns) : [];
  return { watches, beliefs, settled: settledIn(beliefs, watches), spots, place: foundPlace(spots) };
};

/** The place to go back to and between which values it lies, as exactly as it is known; undefined where the settled pattern has none. */
export const whereabouts = ({ settled, place }: Assessment): Spread | undefined => {
  if (settled?.pattern.kind !== "position" || !place) return settled?.place;
  const { low, high } = place.interval ?? settled.place ?? { low: place.at, high: place.at };
  return { at: place.at, low, high };
};

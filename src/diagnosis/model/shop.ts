import type { Probability } from "../../domain/units.ts";

/** A number of the network with the shop's own history in it. */
export interface Figure {
  readonly value: Probability;
  readonly yes: number;
  /** Cases that had something to say. 0: still the starter value. */
  readonly of: number;
}

/** The shop's own numbers; whatever is not in it is still the starter value. */
export interface Learned {
  readonly priors: Readonly<Record<string, Figure>>;
  /** By finding, then by fault. */
  readonly links: Readonly<Record<string, Readonly<Record<string, Figure>>>>;
}

export const NOTHING_LEARNED: Learned = { priors: {}, links: {} };

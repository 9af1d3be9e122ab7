import type { Probability } from "../../domain/units.ts";

/** The presses that one event may have brought: which press, and how dense in time (per second) reactions of that length are. */
export type Claims = readonly (readonly [press: number, density: number])[];

/** Events, in the order of time, that could claim the same presses: nothing in one chain has to do with another. */
export type Chain = readonly Claims[];

/** Splits events at every place where no press can belong to both sides. Exact: the sum over the whole is the product over the chains. */
export const chainsOf = (events: readonly Claims[]): readonly Chain[] => {
  const chains: Claims[][] = [];
  let current: Claims[] | undefined;
  let reach = -1;
  for (const claims of events) {
    if (current && claims.some(([press]) => press <= reach)) current.push(claims);
    else {
      const chain = [claims];
      chains.push(chain);
      // An event that nobody pressed for stands between no others.
      if (claims.length > 0) current = chain;
    }
    for (const [press] of claims) reach = Math.max(reach, press);
  }
  return chains;
};

/**
 * The sum over all ways in which these events were each missed or brought one press, no press twice. `caught` is how surely an
 * event brings a press, `stray` how many presses come a second for nothing. For one event (1 - q) + q sum A, for two
 * (1-q)^2 + q (1-q) (SA + SB) + q^2 (SA SB - sum A B), with A = density / stray.
 */
export const chainSum = (chain: Chain, caught: Probability, stray: number): number => {
  if (chain.length > 1) return pairings(chain, caught, stray);
  let sum = 0;
  for (const [, density] of chain[0] ?? []) sum += density;
  return 1 - caught + (caught * sum) / stray;
};

/** Kept by which presses are taken; those that no later event can claim are forgotten. */
const pairings = (chain: Chain, caught: Probability, stray: number): number => {
  let sums = new Map<number, number>([[0, 1]]);
  chain.forEach((claims, i) => {
    const open = sharedAfter(chain, i);
    const next = new Map<number, number>();
    const add = (taken: number, sum: number) => next.set(taken & open, (next.get(taken & open) ?? 0) + sum);
    for (const [taken, sum] of sums) {
      add(taken, sum * (1 - caught));
      for (const [press, density] of claims)
        if ((taken & bitOf(press)) === 0) add(taken | bitOf(press), (sum * caught * density) / stray);
    }
    sums = next;
  });
  return sums.get(0) ?? 0;
};

/** Presses that were within reach until now and still are for a later event. */
const sharedAfter = (chain: Chain, i: number): number => {
  const reach = Math.max(-1, ...chain.slice(0, i + 1).flatMap((claims) => claims.map(([press]) => press)));
  const later = chain.slice(i + 1).flatMap((claims) => claims.map(([press]) => press));
  return later.reduce((bits, press) => (press <= reach ? bits | bitOf(press) : bits), 0);
};

/** Presses within reach of neighbouring events are few and follow on each other, so that their bits never meet. */
const bitOf = (press: number): number => 1 << (press % 30);

import type { Probability } from "../../domain/units.ts";
import { absorb, type Part, type WeighedFault } from "./absorb.ts";
import { checkNetwork, type Evidence, type Network } from "./network-shape.ts";
import { partPosteriors, partWeight } from "./subsets.ts";

/** How well the evidence fits, and how likely each fault is in its light, with any number of faults at once. */
export interface Belief {
  /** Of the evidence as a whole, before it was seen. */
  readonly probability: Probability;
  readonly posteriors: Readonly<Record<string, Probability>>;
}

/**
 * Exact, by a recursion that never subtracts (textbook sums of signed terms lose all digits: Heckerman 1989, Quickscore).
 * Evidence that cannot happen has probability 0, and then no fault has a posterior: each is NaN.
 * Throws TooManySymptoms beyond 20 connected symptoms, RangeError when the network or the evidence makes no sense.
 */
export function infer(network: Network, evidence: Evidence): Belief {
  checkNetwork(network, evidence);
  const { constant, parts, untouched } = absorb(network, evidence);
  const reckoned = parts.map((part) => ({ part, ...partPosteriors(part) }));
  const factors = [constant, ...untouched.map(weightOf), ...reckoned.map(({ weight }) => weight)];
  const possible = factors.every((factor) => factor > 0);
  const posteriors = new Map([
    ...untouched.map((fault) => [fault.id, fault.with / weightOf(fault)] as const),
    ...reckoned.flatMap(({ part, faults }) => part.faults.map(({ id }, i) => [id, faults[i] ?? Number.NaN] as const)),
  ]);
  return {
    probability: multiply(factors),
    posteriors: Object.fromEntries(
      network.faults.map(({ id }) => [id, possible ? (posteriors.get(id) ?? Number.NaN) : Number.NaN]),
    ),
  };
}

/** The exact probability that no fault of the network is there, in the light of the evidence. */
export function inferNone(network: Network, evidence: Evidence): Probability {
  checkNetwork(network, evidence);
  const { parts, untouched } = absorb(network, evidence);
  return multiply([
    ...untouched.map((fault) => fault.without / weightOf(fault)),
    ...parts.map((part) => weightOfNone(part) / partWeight(part)),
  ]);
}

/** The exact probability that every present symptom came by chance, whatever else may be wrong; 1 when there is none. */
export function inferChance(network: Network, evidence: Evidence): Probability {
  checkNetwork(network, evidence);
  return multiply(absorb(network, evidence).parts.map((part) => weightOfNone(part) / partWeight(part)));
}

const weightOf = (fault: WeighedFault): number => fault.with + fault.without;
const weightOfNone = ({ leaks, faults }: Part): number => multiply([...leaks, ...faults.map((fault) => fault.without)]);
const multiply = (factors: readonly number[]): number => factors.reduce((product, factor) => product * factor, 1);

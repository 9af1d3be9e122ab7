import type { Probability } from "../../domain/units.ts";
import { absorb, type Part, type WeighedFault } from "./absorb.ts";
import type { LayeredNetwork } from "./layers.ts";
import { checkNetwork, type Evidence, type Network } from "./network-shape.ts";
import { partPosteriors, partWeight } from "./subsets.ts";

/** How well the evidence fits, and how likely each fault is in its light, with any number of faults at once. */
export interface Belief {
  /** The probability of the evidence as a whole, before it was seen. */
  readonly probability: Probability;
  readonly posteriors: Readonly<Record<string, Probability>>;
}

/**
 * The exact beliefs in all faults, by a recursion that never subtracts (textbook sums of signed terms lose all
 * digits: Heckerman 1989, Quickscore). Evidence that cannot happen has probability 0, and then no fault has a
 * posterior: each is NaN. Throws TooManySymptoms beyond 20 connected symptoms, RangeError when a network without a
 * middle layer or its evidence makes no sense.
 */
export function infer(network: Network | LayeredNetwork, evidence: Evidence): Belief {
  const { constant, parts, untouched } = absorb(layered(network, evidence), evidence);
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
export function inferNone(network: Network | LayeredNetwork, evidence: Evidence): Probability {
  const { parts, untouched } = absorb(layered(network, evidence), evidence);
  return multiply([
    ...untouched.map((fault) => fault.without / weightOf(fault)),
    ...parts.map((part) => weightOfNone(part) / partWeight(part)),
  ]);
}

/** The exact probability that every present symptom came by chance, whatever else may be wrong; 1 when there is none. */
export const inferChance = (network: LayeredNetwork, evidence: Evidence): Probability =>
  multiply(absorb(network, evidence).parts.map((part) => weightOfNone(part) / partWeight(part)));

/** A network without a middle layer as one with it: all that a fault shows is one effect, which happens for certain. */
function layered(network: Network | LayeredNetwork, evidence: Evidence): LayeredNetwork {
  if (isLayered(network)) return network;
  checkNetwork(network, evidence);
  const links = new Map(network.faults.map(({ id }) => [id, new Map<string, Probability>()]));
  for (const symptom of network.symptoms)
    for (const [fault, link] of Object.entries(symptom.links)) links.get(fault)?.set(symptom.id, link);
  return {
    symptoms: network.symptoms,
    faults: network.faults.map(({ id, prior }) => ({
      id,
      prior,
      effects: [{ probability: 1, links: links.get(id) ?? new Map() }],
      ways: [],
    })),
  };
}

const isLayered = (network: Network | LayeredNetwork): network is LayeredNetwork =>
  network.faults.length > 0 && network.faults.every((fault) => "ways" in fault);

/** The answer that no fault is there. */
export const NOTHING_BROKEN = "nothing-broken";

/** The likeliest single answer: a fault of these, or that there is none. */
export function likeliest(network: LayeredNetwork, evidence: Evidence, among: (fault: string) => boolean) {
  const { posteriors } = infer(network, evidence);
  const none = { id: NOTHING_BROKEN, probability: inferNone(network, evidence) };
  return Object.entries(posteriors)
    .filter(([id]) => among(id))
    .reduce((best, [id, probability]) => (probability > best.probability ? { id, probability } : best), none);
}

const weightOf = (fault: WeighedFault): number => fault.with + fault.without;
const weightOfNone = ({ leaks, faults }: Part): number => multiply([...leaks, ...faults.map((fault) => fault.without)]);
const multiply = (factors: readonly number[]): number => factors.reduce((product, factor) => product * factor, 1);

import type { Probability } from "../../domain/units.ts";
import type { NodeId } from "./node.ts";

/**
 * What can be wrong, the physical effects it has, and what they show: three layers. A fault that is there has each of its
 * own effects or not, by chance; of its ways, if it has any, exactly one. Each symptom is switched on by any effect or by chance.
 */
export interface LayeredNetwork {
  readonly faults: readonly LayeredFault[];
  readonly symptoms: readonly { readonly id: NodeId; readonly leak: Probability }[];
}

export interface LayeredFault {
  readonly id: string;
  /** How often it is there before anything was looked at. */
  readonly prior: Probability;
  /** Whichever way it goes. */
  readonly effects: readonly NetworkEffect[];
  /** Exactly one of them, as one motor of many: shares that add up to 1, or none at all. */
  readonly ways: readonly Way[];
}

export interface Way {
  readonly share: Probability;
  readonly effects: readonly NetworkEffect[];
}

/** Happens or not; if it happens it shows each symptom by its link, each for itself. */
export interface NetworkEffect {
  readonly probability: Probability;
  readonly links: ReadonlyMap<NodeId, Probability>;
}

/** All effects of a fault, of whichever way. */
export const effectsOf = ({ effects, ways }: LayeredFault): readonly NetworkEffect[] => [
  ...effects,
  ...ways.flatMap((way) => way.effects),
];

/** A fault with every link changed, or taken out where it becomes 0. */
export const withLinks = (
  fault: LayeredFault,
  change: (link: Probability, symptom: NodeId) => Probability,
): LayeredFault => {
  const changed = ({ probability, links }: NetworkEffect): NetworkEffect => {
    const left = new Map<string, Probability>();
    for (const [symptom, link] of links) {
      const value = change(link, symptom);
      if (value > 0) left.set(symptom, value);
    }
    return { probability, links: left };
  };
  return {
    ...fault,
    effects: fault.effects.map(changed),
    ways: fault.ways.map(({ share, effects }) => ({ share, effects: effects.map(changed) })),
  };
};

/** How often the fault shows each symptom, over all its ways and effects: the links of a network without a middle. */
export function marginals(fault: LayeredFault): ReadonlyMap<NodeId, Probability> {
  const always = quietnessOf(fault.effects);
  const byWay = fault.ways.map(({ share, effects }) => ({ share, quiet: quietnessOf(effects) }));
  const ids = new Set(effectsOf(fault).flatMap(({ links }) => [...links.keys()]));
  return new Map(
    [...ids].map((id) => {
      const quiet = byWay.reduce(
        (sum, way) => sum + way.share * (way.quiet.get(id) ?? 1),
        fault.ways.length > 0 ? 0 : 1,
      );
      return [id, 1 - quiet * (always.get(id) ?? 1)];
    }),
  );
}

function quietnessOf(effects: readonly NetworkEffect[]): ReadonlyMap<NodeId, Probability> {
  const quiet = new Map<NodeId, Probability>();
  for (const { probability, links } of effects)
    for (const [symptom, link] of links) quiet.set(symptom, (quiet.get(symptom) ?? 1) * (1 - probability * link));
  return quiet;
}

/** What can be wrong, what it can show, and how surely: two layers, each symptom switched on by any of its faults or by chance. */
export interface Network {
  readonly faults: readonly NetworkFault[];
  readonly symptoms: readonly NetworkSymptom[];
}

interface NetworkFault {
  readonly id: string;
  /** How often it is there before anything was looked at. */
  readonly prior: Probability;
}

export interface NetworkSymptom {
  readonly id: string;
  /** How often it is reported although none of its faults is there. */
  readonly leak: Probability;
  /** How often each fault alone brings it about, by the id of the fault. */
  readonly links: Readonly<Record<string, Probability>>;
}

/** Symptoms reported and symptoms looked for in vain. What stands in neither list was not observed, which says nothing. */
export interface Evidence {
  readonly present: readonly string[];
  readonly absent: readonly string[];
}

/**
 * Checks a network and its evidence. Throws a RangeError that names the first thing wrong: a number outside 0 to 1, an
 * unknown or doubled id, a contradiction.
 */
export function checkNetwork(network: Network, evidence: Evidence): void {
  const faults = distinct(network.faults, "fault");
  const symptoms = distinct(network.symptoms, "symptom");
  for (const { id, prior } of network.faults) checkProbability(prior, `prior of ${id}`);
  for (const { id, leak, links } of network.symptoms) {
    checkProbability(leak, `leak of ${id}`);
    for (const [fault, link] of Object.entries(links)) {
      if (!faults.has(fault)) throw new RangeError(`The symptom ${id} is linked to the unknown fault ${fault}.`);
      checkProbability(link, `link from ${fault} to ${id}`);
    }
  }
  checkEvidence(evidence, symptoms);
}

function checkEvidence({ present, absent }: Evidence, symptoms: ReadonlySet<string>): void {
  const unknown = [...present, ...absent].find((id) => !symptoms.has(id));
  if (unknown !== undefined) throw new RangeError(`The evidence names the unknown symptom ${unknown}.`);
  const denied = new Set(absent);
  const both = present.find((id) => denied.has(id));
  if (both !== undefined) throw new RangeError(`The symptom ${both} cannot be both present and absent.`);
}

function distinct(items: readonly { readonly id: string }[], what: string): ReadonlySet<string> {
  const ids = new Set<string>();
  for (const { id } of items) {
    if (ids.has(id)) throw new RangeError(`The ${what} ${id} is there twice.`);
    ids.add(id);
  }
  return ids;
}

function checkProbability(value: number, what: string): void {
  if (!(value >= 0 && value <= 1)) throw new RangeError(`The ${what} is ${value}, which is not between 0 and 1.`);
}

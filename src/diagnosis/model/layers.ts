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

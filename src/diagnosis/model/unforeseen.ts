import type { Probability } from "../../domain/units.ts";
import { RARELY, SELDOM } from "./knowledge/effect.ts";
import { alsoCalled, LOOSELY } from "./knowledge/neighbouring-words.ts";
import type { LayeredFault, LayeredNetwork, NetworkEffect } from "./layers.ts";
import { type NodeId, nodesAt } from "./node.ts";
import type { Observation } from "./observation.ts";
import { type Finding, findingAt, type MovingPart, type Place, partOf, placeKey } from "./places.ts";
import type { Reported } from "./signs.ts";

/** One of ten who see a part misbehave puts it oddly, in any of the thirty words or so that the list offers. Judgement. */
const ODD_WORD: Probability = SELDOM * RARELY;

/**
 * The network in which any word that a mechanism knows may be said of its part, now and then, by somebody who sees it
 * misbehave: a word that no effect of a fault leads to is unlikely under it, but does not rule it out. Only words that were
 * said: what nobody foresaw is not missed when it stays away.
 */
export function withLooseWords(network: LayeredNetwork, said: readonly Finding[]): LayeredNetwork {
  const atParts = said.filter(({ place }) => place !== "fixture");
  if (atParts.length === 0) return network;
  const loose = (effect: NetworkEffect): NetworkEffect => ({
    probability: effect.probability,
    links: new Map([...looseAt(effect, atParts).map((id) => [id, ODD_WORD] as const), ...effect.links]),
  });
  return {
    symptoms: network.symptoms,
    faults: network.faults.map((fault) => ({
      ...fault,
      effects: fault.effects.map(loose),
      ways: fault.ways.map(({ share, effects }) => ({ share, effects: effects.map(loose) })),
    })),
  };
}

/**
 * The network in which a word counts for less against what foresees only its neighbours, the oftener these were
 * said. One trouble of a part, reported in several steps, had as many chances to be put in a neighbour's words:
 * that one of them was is no second sign.
 */
export function withRepeatedTrouble(network: LayeredNetwork, reported: readonly Reported[]): LayeredNetwork {
  const repeated = reported.flatMap((one): readonly Repeated[] => {
    const near = reported.filter((other) => isNeighbour(one, other));
    const times = new Set([one, ...near].flatMap(({ sources }) => sources.map(({ observation }) => observation))).size;
    return near.length > 0 && times > 1
      ? [{ id: one.finding.id, near: near.map(({ finding }) => finding.id), times }]
      : [];
  });
  if (repeated.length === 0) return network;
  const grown = ({ probability, links }: NetworkEffect): NetworkEffect => ({
    probability,
    links: new Map([...links, ...repeated.flatMap((one) => grownLink(links, one))]),
  });
  return {
    symptoms: network.symptoms,
    faults: network.faults.map((fault) => ({
      ...fault,
      effects: fault.effects.map(grown),
      ways: fault.ways.map(({ share, effects }) => ({ share, effects: effects.map(grown) })),
    })),
  };
}

/** A word that was said where its neighbours were said too, and in how many steps any of them. */
interface Repeated {
  readonly id: NodeId;
  readonly near: readonly NodeId[];
  readonly times: number;
}

const isNeighbour = (one: Reported, other: Reported): boolean =>
  placeKey(one.finding.place) === placeKey(other.finding.place) && alsoCalled(one.symptom).has(other.symptom);

/** One chance is in the link already. */
const grownLink = (links: NetworkEffect["links"], { id, near, times }: Repeated) => {
  const nearest = Math.max(0, ...near.map((other) => links.get(other) ?? 0));
  if (nearest === 0) return [];
  return [[id, 1 - (1 - (links.get(id) ?? 0)) * (1 - LOOSELY * nearest) ** (times - 1)] as const];
};

/** What was said of the parts on which this effect acts, where no link of it foresees that. */
const looseAt = ({ links }: NetworkEffect, said: readonly Finding[]): readonly NodeId[] =>
  said.filter(({ id, place }) => !links.has(id) && actsAt(links, placeKey(place))).map(({ id }) => id);

/** What the fixture as a whole does is put down to its parts less often than said of itself. */
const actsAt = (links: NetworkEffect["links"], place: string): boolean => {
  const there = nodesAt(place);
  return [...links].some(([node, link]) => {
    const whole = there.get(node);
    return whole !== undefined && link > (links.get(whole) ?? 0);
  });
};

/** Steps that failed, or left somebody unsure, without a word why: something is wrong with what moved, no more is known. */
export interface Unnamed {
  readonly finding: Finding;
  readonly doubted: "failed" | "doubted";
}

/** A step fails without a word now and then although nothing is wrong. Judgement. */
export const UNNAMED_LEAK: Probability = 0.02;
/** How surely somebody notices, at most, that something is wrong where a fault is there. */
const SURE_AT_MOST: Probability = 0.9;

/** Parts at which something was wrong and no symptom was named, each once. */
export function unnamedTroubles(
  parts: readonly MovingPart[],
  observations: readonly Observation[],
  reported: readonly Reported[],
): readonly Unnamed[] {
  const named = new Set(reported.map(({ finding }) => placeKey(finding.place)));
  const silent = observations.filter(({ symptoms }) => symptoms.length === 0);
  const at = (result: Observation["result"]) =>
    new Map(
      silent
        .filter((one) => one.result === result)
        .map((one) => placeMoved(parts, one))
        .map((place) => [placeKey(place), place]),
    );
  const failed = at("fail");
  return [...new Map([...at("unsure"), ...failed])]
    .filter(([key]) => !named.has(key))
    .map(([key, place]) => ({ finding: findingAt(place, "unnamed"), doubted: failed.has(key) ? "failed" : "doubted" }));
}

const placeMoved = (parts: readonly MovingPart[], { functions }: Observation): Place => {
  const moved = [...new Set(functions.flatMap((one) => partOf(parts, one) ?? []))];
  const [only] = moved;
  return moved.length === 1 && only ? only : "fixture";
};

/**
 * The network with findings of something wrong that nobody named: any effect that can show anything there can be behind it.
 */
export function withUnnamed(network: LayeredNetwork, findings: readonly Finding[]): LayeredNetwork {
  if (findings.length === 0) return network;
  const sought = findings.map(({ id, place }) => ({ id, there: nodesAt(placeKey(place)) }));
  const grow = (links: NetworkEffect["links"]) =>
    new Map([
      ...links,
      ...sought.flatMap(({ id, there }) => {
        const quiet = [...links].reduce((left, [to, link]) => (there.has(to) ? left * (1 - link) : left), 1);
        return quiet < 1 ? [[id, Math.min(SURE_AT_MOST, 1 - quiet)] as const] : [];
      }),
    ]);
  const all = (effects: LayeredFault["effects"]) =>
    effects.map(({ probability, links }) => ({ probability, links: grow(links) }));
  return {
    symptoms: [...network.symptoms, ...findings.map(({ id }) => ({ id, leak: UNNAMED_LEAK }))],
    faults: network.faults.map((fault) => ({
      ...fault,
      effects: all(fault.effects),
      ways: fault.ways.map(({ share, effects }) => ({ share, effects: all(effects) })),
    })),
  };
}

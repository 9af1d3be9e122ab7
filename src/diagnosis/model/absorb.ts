import type { Evidence, LayeredFault, LayeredNetwork, NetworkEffect, Way } from "./layers.ts";

/** A network with its absent symptoms worked into the faults, and its present ones split into parts that do not touch. */
export interface Absorbed {
  /** The share of the absent symptoms in the probability of the evidence that no fault changes. */
  readonly constant: number;
  readonly parts: readonly Part[];
  /** Faults that could not have shown any present symptom. */
  readonly untouched: readonly WeighedFault[];
}

/** Present symptoms that hang together through their faults. */
export interface Part {
  readonly faults: readonly WeighedFault[];
  /** How often each present symptom comes by chance, by its bit, 0 to 1. */
  readonly leaks: readonly number[];
}

/** A fault with the weights of its being there and not, and what of it can switch on present symptoms. */
export interface WeighedFault {
  readonly id: string;
  /** The weight of its being there, before `effects` and `ways` are counted. */
  readonly with: number;
  readonly without: number;
  readonly effects: readonly WeighedEffect[];
  /** Weights of the ways that can; empty when none can. */
  readonly ways: readonly { readonly weight: number; readonly effects: readonly WeighedEffect[] }[];
  /** The weight of all ways that cannot. */
  readonly elsewhere: number;
}

/** Weight of its happening and not, in the light of the absent symptoms. */
export interface WeighedEffect {
  readonly on: number;
  readonly off: number;
  readonly links: readonly Link[];
}

export interface Link {
  /** Number of the present symptom within its part. */
  readonly bit: number;
  readonly probability: number;
}

/**
 * Takes absent symptoms into a network's own numbers. They cost nothing but a factor each (Heckerman 1989), within each
 * effect; only present ones make faults depend on each other.
 */
export function absorb(network: LayeredNetwork, evidence: Evidence): Absorbed {
  const present = new Set(evidence.present);
  const absent = new Set(evidence.absent);
  const seen = network.symptoms.filter(({ id }) => present.has(id));
  const bits = new Map(seen.map(({ id }, bit) => [id, bit]));
  const faults = network.faults.map((fault) => weigh(fault, bits, absent));
  const denied = network.symptoms.filter(({ id }) => absent.has(id));
  return {
    constant: denied.reduce((product, { leak }) => product * (1 - leak), 1),
    parts: split(
      seen.map(({ leak }) => leak),
      faults,
    ),
    untouched: faults.filter((fault) => bitsOf(fault).length === 0),
  };
}

type Bits = ReadonlyMap<string, number>;

/** Effects and ways that touch no present symptom are plain factors. */
function weigh({ id, prior, effects, ways }: LayeredFault, bits: Bits, absent: ReadonlySet<string>): WeighedFault {
  const own = weighAll(effects, bits, absent);
  const each = ways.map((way) => weighWay(way, bits, absent));
  const touching = each.filter((way) => way.effects.length > 0);
  const rest = each.filter((way) => way.effects.length === 0).reduce((sum, { weight }) => sum + weight, 0);
  const elsewhere = ways.length === 0 ? 1 : rest;
  return touching.length > 0
    ? { id, with: prior * own.factor, without: 1 - prior, effects: own.effects, ways: touching, elsewhere }
    : { id, with: prior * own.factor * elsewhere, without: 1 - prior, effects: own.effects, ways: [], elsewhere: 1 };
}

const weighWay = ({ share, effects }: Way, bits: Bits, absent: ReadonlySet<string>) => {
  const weighed = weighAll(effects, bits, absent);
  return { weight: share * weighed.factor, effects: weighed.effects };
};

function weighAll(all: readonly NetworkEffect[], bits: Bits, absent: ReadonlySet<string>) {
  const effects: WeighedEffect[] = [];
  let factor = 1;
  for (const { probability, links } of all) {
    let on = probability;
    const linked: Link[] = [];
    for (const [symptom, link] of links) {
      const bit = bits.get(symptom);
      if (bit !== undefined && link > 0) linked.push({ bit, probability: link });
      else if (absent.has(symptom)) on *= 1 - link;
    }
    if (linked.length === 0) factor *= on + 1 - probability;
    else effects.push({ on, off: 1 - probability, links: linked });
  }
  return { effects, factor };
}

const linksOf = ({ effects, ways }: WeighedFault): readonly Link[] =>
  [...effects, ...ways.flatMap((way) => way.effects)].flatMap(({ links }) => links);
const bitsOf = (fault: WeighedFault): readonly number[] => [...new Set(linksOf(fault).map(({ bit }) => bit))];

/** Two symptoms belong together when a fault can show both, directly or by way of others. */
function split(leaks: readonly number[], faults: readonly WeighedFault[]): readonly Part[] {
  const group = leaks.map((_, bit) => bit);
  const touched = faults.map((fault) => ({ fault, bits: bitsOf(fault) }));
  for (const { bits } of touched) for (const bit of bits) join(group, bits[0] ?? bit, bit);
  return [...new Set(group)].map((name) => {
    const own = touched.filter(({ bits: [first] }) => first !== undefined && group[first] === name);
    return partOf(
      leaks,
      own.map(({ fault }) => fault),
      leaks.map((_, bit) => bit).filter((bit) => group[bit] === name),
    );
  });
}

function join(group: number[], a: number, b: number): void {
  const from = group[b];
  const to = group[a];
  group.forEach((name, bit) => {
    if (name === from && to !== undefined) group[bit] = to;
  });
}

/** The bits of a part are counted anew from 0. */
function partOf(leaks: readonly number[], faults: readonly WeighedFault[], bits: readonly number[]): Part {
  const renumber = new Map(bits.map((bit, i) => [bit, i]));
  const moved = (effects: readonly WeighedEffect[]): readonly WeighedEffect[] =>
    effects.map((effect) => ({
      ...effect,
      links: effect.links.map(({ bit, probability }) => ({ bit: renumber.get(bit) ?? 0, probability })),
    }));
  return {
    leaks: bits.map((bit) => leaks[bit] ?? 0),
    faults: faults.map((fault) => ({
      ...fault,
      effects: moved(fault.effects),
      ways: fault.ways.map(({ weight, effects }) => ({ weight, effects: moved(effects) })),
    })),
  };
}

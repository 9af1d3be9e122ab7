import type { Evidence, Network, NetworkSymptom } from "./network-shape.ts";

/** A network with its absent symptoms reckoned into the faults, and its present ones split into parts that do not touch. */
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
  /** Of the present symptoms, by bit. */
  readonly leaks: readonly number[];
}

/** A fault with the weights of its being there and not, and the present symptoms that it can switch on. */
export interface WeighedFault {
  readonly id: string;
  readonly with: number;
  readonly without: number;
  readonly links: readonly Link[];
}

export interface Link {
  /** Number of the present symptom within its part. */
  readonly bit: number;
  readonly probability: number;
}

/** Absent symptoms cost nothing but a factor each (Heckerman 1989); only present ones make faults depend on each other. */
export function absorb(network: Network, evidence: Evidence): Absorbed {
  const present = new Set(evidence.present);
  const absent = new Set(evidence.absent);
  const denied = network.symptoms.filter(({ id }) => absent.has(id));
  const seen = network.symptoms.filter(({ id }) => present.has(id));
  const faults = network.faults.map(({ id, prior }) => ({
    id,
    with: denied.reduce((product, { links }) => product * (1 - linkTo(links, id)), prior),
    without: 1 - prior,
    links: linksTo(seen, id),
  }));
  return {
    constant: denied.reduce((product, { leak }) => product * (1 - leak), 1),
    parts: split(seen, faults),
    untouched: faults.filter(({ links }) => links.length === 0),
  };
}

const linksTo = (seen: readonly NetworkSymptom[], fault: string): readonly Link[] =>
  seen.flatMap(({ links }, bit) => {
    const probability = linkTo(links, fault);
    return probability > 0 ? [{ bit, probability }] : [];
  });

/** Own keys only: an id may be spelled like something every object has. */
const linkTo = (links: NetworkSymptom["links"], fault: string): number =>
  Object.hasOwn(links, fault) ? (links[fault] ?? 0) : 0;

/** Two symptoms belong together when a fault can show both, directly or by way of others. */
function split(seen: readonly NetworkSymptom[], faults: readonly WeighedFault[]): readonly Part[] {
  const group = seen.map((_, bit) => bit);
  for (const { links } of faults) for (const { bit } of links) join(group, links[0]?.bit ?? bit, bit);
  const names = [...new Set(group)];
  return names.map((name) => partOf(seen, faults, (bit) => group[bit] === name));
}

function join(group: number[], a: number, b: number): void {
  const from = group[b];
  const to = group[a];
  group.forEach((name, bit) => {
    if (name === from && to !== undefined) group[bit] = to;
  });
}

function partOf(
  seen: readonly NetworkSymptom[],
  faults: readonly WeighedFault[],
  belongs: (bit: number) => boolean,
): Part {
  const bits = seen.map((_, bit) => bit).filter(belongs);
  const renumber = new Map(bits.map((bit, i) => [bit, i]));
  return {
    leaks: bits.map((bit) => seen[bit]?.leak ?? 0),
    faults: faults
      .filter(({ links }) => links.some(({ bit }) => belongs(bit)))
      .map((fault) => ({
        ...fault,
        links: fault.links.map(({ bit, probability }) => ({ bit: renumber.get(bit) ?? 0, probability })),
      })),
  };
}

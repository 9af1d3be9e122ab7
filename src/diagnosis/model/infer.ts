import type { Probability } from "../../domain/units.ts";
import { absorb, type Part, type WeighedEffect, type WeighedFault } from "./absorb.ts";
import { checkNetwork, type Evidence, type LayeredNetwork, type Network } from "./layers.ts";
import { advance, blend, dot, happen, pull, push, type SubsetTable } from "./subset-table.ts";

/** How well the evidence fits, and how likely each fault is in its light, with any number of faults at once. */
export interface Belief {
  /** The probability of the evidence as a whole, before it was seen. */
  readonly probability: Probability;
  readonly posteriors: Readonly<Record<string, Probability>>;
  /**
   * How likely it is of each fault that it is there and has brought about something of what is present: what is common is likely
   * to be there as well, and need not have to do with it. Never more than the posterior; 0 for all where nothing is present.
   */
  readonly behind: Readonly<Record<string, Probability>>;
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
  const believed = new Map<string, FaultBelief>([
    ...untouched.map((fault) => [fault.id, { posterior: fault.with / weightOf(fault), behind: 0 }] as const),
    ...reckoned.flatMap(({ part, faults }) => part.faults.map(({ id }, i) => [id, faults[i] ?? UNKNOWN] as const)),
  ]);
  const each = (take: (one: FaultBelief) => Probability) =>
    Object.fromEntries(network.faults.map(({ id }) => [id, possible ? take(believed.get(id) ?? UNKNOWN) : Number.NaN]));
  return {
    probability: multiply(factors),
    posteriors: each(({ posterior }) => posterior),
    behind: each(({ behind }) => behind),
  };
}

interface FaultBelief {
  readonly posterior: Probability;
  readonly behind: Probability;
}
const UNKNOWN: FaultBelief = { posterior: Number.NaN, behind: Number.NaN };

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

/** How likely each fault is the answer: to be behind what is present; where nothing is, to be there. */
export const answering = ({ posteriors, behind }: Belief, { present }: Evidence): Belief["posteriors"] =>
  present.length > 0 ? behind : posteriors;

/** The likeliest single answer: a fault of these, or that there is none. */
export function likeliest(network: LayeredNetwork, evidence: Evidence, among: (fault: string) => boolean) {
  const none = { id: NOTHING_BROKEN, probability: inferNone(network, evidence) };
  return Object.entries(answering(infer(network, evidence), evidence))
    .filter(([id]) => among(id))
    .reduce((best, [id, probability]) => (probability > best.probability ? { id, probability } : best), none);
}

const weightOf = (fault: WeighedFault): number => fault.with + fault.without;
const weightOfNone = ({ leaks, faults }: Part): number => multiply([...leaks, ...faults.map((fault) => fault.without)]);
const multiply = (factors: readonly number[]): number => factors.reduce((product, factor) => product * factor, 1);

/** Beyond this many present symptoms in one part the tables outgrow the machine; up to 16 answer at once. */
const MOST_SYMPTOMS = 20;

/** The refusal to calculate: too many symptoms depend on each other for an exact answer. Nothing is ever left out silently. */
export class TooManySymptoms extends Error {
  override readonly name = "TooManySymptoms";
  readonly count: number;
  constructor(count: number) {
    super(`${count} symptoms hang together; at most ${MOST_SYMPTOMS} can be calculated exactly.`);
    this.count = count;
  }
}

/**
 * The probability of a part's evidence, 0 to 1, and what is believed of each of its faults in their order. A fault that is there
 * and has switched on nothing leaves the others to do it: what is left of its posterior it had a hand in. Throws
 * TooManySymptoms beyond 20 present symptoms.
 */
function partPosteriors(part: Part): { readonly weight: number; readonly faults: readonly FaultBelief[] } {
  const stride = Math.ceil(Math.sqrt(part.faults.length)) || 1;
  const { marks, last } = walkForward(part, stride);
  const weight = last.at(-1) ?? 0;
  const believed = new Array<FaultBelief>(part.faults.length);
  let back: SubsetTable = new Float64Array(last.length);
  back[last.length - 1] = 1;
  for (let mark = marks.length - 1; mark >= 0; mark--) {
    const first = mark * stride;
    const tables = tablesFrom(marks[mark] ?? last, part.faults.slice(first, first + stride));
    for (let i = tables.length - 1; i >= 0; i--) {
      const fault = faultAt(part, first + i);
      const pulled = happen(back, fault, pull);
      const before = tables[i] ?? last;
      const posterior = (fault.with * dot(before, pulled)) / weight;
      const idle = (fault.with * quietnessAmong(fault) * dot(before, back)) / weight;
      believed[first + i] = { posterior, behind: Math.max(0, posterior - idle) };
      back = blend(fault.without, back, fault.with, pulled);
    }
  }
  return { weight, faults: believed };
}

/** How likely a fault that is there switches on no present symptom. */
function quietnessAmong({ effects, ways, elsewhere }: WeighedFault): Probability {
  const quiet = (some: readonly WeighedEffect[]) =>
    multiply(some.map(({ on, off, links }) => off + on * multiply(links.map(({ probability }) => 1 - probability))));
  const own = quiet(effects);
  if (ways.length === 0) return own;
  return own * ways.reduce((sum, way) => sum + way.weight * quiet(way.effects), elsewhere);
}

/** The probability of a part's evidence alone, 0 to 1. Throws TooManySymptoms beyond 20 present symptoms. */
const partWeight = (part: Part): number => walkForward(part, part.faults.length + 1).last.at(-1) ?? 0;

/** Keeps every stride-th table only: all of them would need gigabytes at the limit, and the rest are soon made again. */
function walkForward(
  part: Part,
  stride: number,
): { readonly marks: readonly SubsetTable[]; readonly last: SubsetTable } {
  const marks: SubsetTable[] = [];
  let table = startTable(part.leaks);
  part.faults.forEach((fault, i) => {
    if (i % stride === 0) marks.push(table);
    table = advance(table, fault);
  });
  return { marks, last: table };
}

function startTable(leaks: readonly number[]): SubsetTable {
  if (leaks.length > MOST_SYMPTOMS) throw new TooManySymptoms(leaks.length);
  const table = new Float64Array(2 ** leaks.length);
  table[0] = 1;
  return push(
    table,
    leaks.map((probability, bit) => ({ bit, probability })),
  );
}

/** The table before each of these faults. */
function tablesFrom(first: SubsetTable, faults: readonly WeighedFault[]): readonly SubsetTable[] {
  const tables = [first];
  for (const fault of faults.slice(0, -1)) tables.push(advance(tables.at(-1) ?? first, fault));
  return tables;
}

function faultAt(part: Part, i: number): WeighedFault {
  const fault = part.faults[i];
  if (!fault) throw new Error(`Bug: no fault number ${i} in a part of ${part.faults.length}`);
  return fault;
}

import type { Probability } from "../../domain/units.ts";
import { absorb, type Link, type Part, type WeighedEffect, type WeighedFault } from "./absorb.ts";
import { checkNetwork, type Evidence, type LayeredNetwork, type Network } from "./layers.ts";

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

/** A table over sets of present symptoms: entry s is the weight of "exactly the symptoms in s are switched on so far". */
type SubsetTable = Float64Array;

/**
 * The probability of a part's evidence, 0 to 1, and the posterior of each of its faults in their order, 0 to 1. Throws
 * TooManySymptoms beyond 20 present symptoms.
 */
function partPosteriors(part: Part): { readonly weight: number; readonly faults: readonly number[] } {
  const stride = Math.ceil(Math.sqrt(part.faults.length)) || 1;
  const { marks, last } = walkForward(part, stride);
  const weight = last.at(-1) ?? 0;
  const posteriors = new Array<number>(part.faults.length);
  let back: SubsetTable = new Float64Array(last.length);
  back[last.length - 1] = 1;
  for (let mark = marks.length - 1; mark >= 0; mark--) {
    const first = mark * stride;
    const tables = tablesFrom(marks[mark] ?? last, part.faults.slice(first, first + stride));
    for (let i = tables.length - 1; i >= 0; i--) {
      const fault = faultAt(part, first + i);
      const pulled = happen(back, fault, pull);
      posteriors[first + i] = (fault.with * dot(tables[i] ?? last, pulled)) / weight;
      back = blend(fault.without, back, fault.with, pulled);
    }
  }
  return { weight, faults: posteriors };
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

const advance = (table: SubsetTable, fault: WeighedFault): SubsetTable =>
  blend(fault.without, table, fault.with, happen(table, fault, push));

/** The fault is there: each of its effects or not, and one of its ways. What it does to a table, or on the way back. */
function happen(table: SubsetTable, { effects, ways, elsewhere }: WeighedFault, turn: TableTurn): SubsetTable {
  const all = (before: SubsetTable, some: readonly WeighedEffect[]) =>
    some.reduce<SubsetTable>((now, effect) => mayHappen(now, effect, turn), before);
  const own = all(table, effects);
  if (ways.length === 0) return own;
  const sum = own.map((weight) => weight * elsewhere);
  for (const way of ways) {
    const after = all(own, way.effects);
    for (let s = 0; s < sum.length; s++) sum[s] = (sum[s] ?? 0) + way.weight * (after[s] ?? 0);
  }
  return sum;
}

const mayHappen = (before: SubsetTable, { on, off, links }: WeighedEffect, turn: TableTurn): SubsetTable =>
  blend(off, before, on, turn(before.slice(), links));

type TableTurn = (table: SubsetTable, links: readonly Link[]) => SubsetTable;

/** Switches symptoms on: what was without the bit goes over to "with" by the link. In place. */
function push(table: SubsetTable, links: readonly Link[]): SubsetTable {
  for (const { bit, probability } of links) {
    const step = 1 << bit;
    const stay = 1 - probability;
    for (let block = 0; block < table.length; block += 2 * step)
      for (let s = block; s < block + step; s++) {
        const weight = table[s] ?? 0;
        table[s + step] = (table[s + step] ?? 0) + weight * probability;
        table[s] = weight * stay;
      }
  }
  return table;
}

/** The transpose of `push`, for the way back. In place. */
function pull(table: SubsetTable, links: readonly Link[]): SubsetTable {
  for (const { bit, probability } of links) {
    const step = 1 << bit;
    const stay = 1 - probability;
    for (let block = 0; block < table.length; block += 2 * step)
      for (let s = block; s < block + step; s++)
        table[s] = (table[s] ?? 0) * stay + (table[s + step] ?? 0) * probability;
  }
  return table;
}

/** Two tables, each by its weight. */
function blend(a: number, one: SubsetTable, b: number, other: SubsetTable): SubsetTable {
  const blended = new Float64Array(one.length);
  for (let s = 0; s < blended.length; s++) blended[s] = a * (one[s] ?? 0) + b * (other[s] ?? 0);
  return blended;
}

/** Folds the products in halves: adding thousands of them one after another would cost digits. */
function dot(a: SubsetTable, b: SubsetTable): number {
  const products = new Float64Array(a.length);
  for (let s = 0; s < products.length; s++) products[s] = (a[s] ?? 0) * (b[s] ?? 0);
  for (let half = products.length / 2; half >= 1; half /= 2)
    for (let s = 0; s < half; s++) products[s] = (products[s] ?? 0) + (products[s + half] ?? 0);
  return products[0] ?? 0;
}

function faultAt(part: Part, i: number): WeighedFault {
  const fault = part.faults[i];
  if (!fault) throw new Error(`Bug: no fault number ${i} in a part of ${part.faults.length}`);
  return fault;
}

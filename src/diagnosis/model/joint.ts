import type { Probability } from "../../domain/units.ts";
import { infer } from "./infer.ts";
import { checkNetwork, type Evidence, type Network } from "./network-shape.ts";

/** These faults and no others. */
export interface JointSet {
  readonly faults: readonly string[];
  readonly probability: Probability;
}

/**
 * The most probable sets of faults that are there together, exactly, the best first; the best pair need not be the two
 * best single faults. Only sets of at most `size` faults are compared.
 */
export function likeliestSets(network: Network, evidence: Evidence, count: number, size = 3): readonly JointSet[] {
  checkNetwork(network, evidence);
  const { probability, posteriors } = infer(network, evidence);
  if (!(probability > 0)) return [];
  const search = prepare(network, evidence, posteriors);
  const best: JointSet[] = [];
  visit(search, { faults: [], weight: 1, silent: search.silent, next: 0 }, size, (found) => {
    best.push(found);
    best.sort((a, b) => b.probability - a.probability);
    best.splice(count);
    return best.length < count ? 0 : (best.at(-1)?.probability ?? 0);
  });
  const whole = search.without / probability;
  return best.map(({ faults, probability: weight }) => ({ faults, probability: weight * whole }));
}

/** Stands for the absence of a fault that is certain, where a plain 0 could not be divided by. */
const NEVER = 1e-60;

interface Search {
  /** Likeliest first, so that good sets are found soon. */
  readonly faults: readonly Candidate[];
  /** Of each present symptom: how often it stays away without any fault. */
  readonly silent: readonly number[];
  /** From each fault on: how far all that are left could still silence each symptom, and raise the weight. */
  readonly rest: readonly { readonly silent: readonly number[]; readonly weight: number }[];
  /** Weight of no fault at all, before the present symptoms. */
  readonly without: number;
}

interface Candidate {
  readonly id: string;
  /** How much its being there outweighs its not being there. */
  readonly odds: number;
  readonly silent: readonly number[];
}

function prepare(
  { faults, symptoms }: Network,
  evidence: Evidence,
  posteriors: Readonly<Record<string, number>>,
): Search {
  const denied = pick(symptoms, evidence.absent);
  const seen = pick(symptoms, evidence.present);
  const linked = (links: Readonly<Record<string, number>>, id: string) =>
    Object.hasOwn(links, id) ? (links[id] ?? 0) : 0;
  const candidates = faults
    .map(({ id, prior }) => ({
      id,
      odds: denied.reduce((left, { links }) => left * (1 - linked(links, id)), prior) / Math.max(1 - prior, NEVER),
      silent: seen.map(({ links }) => 1 - linked(links, id)),
    }))
    .sort((a, b) => (posteriors[b.id] ?? 0) - (posteriors[a.id] ?? 0));
  return {
    faults: candidates,
    silent: seen.map(({ leak }) => 1 - leak),
    rest: restOf(candidates, seen.length),
    without: denied.reduce(
      (left, { leak }) => left * (1 - leak),
      faults.reduce((left, { prior }) => left * Math.max(1 - prior, NEVER), 1),
    ),
  };
}

const pick = (symptoms: Network["symptoms"], ids: readonly string[]): Network["symptoms"] => {
  const wanted = new Set(ids);
  return symptoms.filter(({ id }) => wanted.has(id));
};

function restOf(faults: readonly Candidate[], width: number): Search["rest"] {
  const rest: Search["rest"][number][] = [{ silent: new Array<number>(width).fill(1), weight: 1 }];
  for (const { odds, silent } of [...faults].reverse()) {
    const [last] = rest.slice(-1);
    if (last) rest.push({ silent: times(last.silent, silent), weight: last.weight * Math.max(1, odds) });
  }
  return rest.reverse();
}

interface Branch {
  readonly faults: readonly string[];
  readonly weight: number;
  readonly silent: readonly number[];
  /** Number of the first fault that may still join. */
  readonly next: number;
}

/** Weighs this set, then every set that grows from it and could still beat the worst of the best. */
function visit(search: Search, branch: Branch, room: number, keep: (found: JointSet) => number): void {
  let least = keep({ faults: branch.faults, probability: branch.weight * shown(branch.silent) });
  if (room === 0) return;
  for (let i = branch.next; i < search.faults.length; i++) {
    const fault = search.faults[i];
    const rest = search.rest[i + 1];
    if (!fault || !rest) return;
    const grown: Branch = {
      faults: [...branch.faults, fault.id],
      weight: branch.weight * fault.odds,
      silent: times(branch.silent, fault.silent),
      next: i + 1,
    };
    if (grown.weight * rest.weight * shown(times(grown.silent, rest.silent)) > least)
      visit(search, grown, room - 1, (found) => (least = keep(found)));
  }
}

const times = (a: readonly number[], b: readonly number[]): readonly number[] =>
  a.map((value, j) => value * (b[j] ?? 1));
/** How probable it is that every present symptom shows. */
const shown = (silent: readonly number[]): number => silent.reduce((product, value) => product * (1 - value), 1);

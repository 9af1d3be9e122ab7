import type { Probability } from "../../domain/units.ts";

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

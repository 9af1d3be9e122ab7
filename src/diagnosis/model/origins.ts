import type { Probability } from "../../domain/units.ts";
import { type FaultId, knownFault } from "./knowledge/faults.ts";
import { type Fitted, networkFor } from "./network.ts";
import type { Figure, Learned } from "./shop.ts";

/** A number of the model and where it comes from. */
export interface Sourced {
  readonly fault: FaultId;
  /** What the number is about: the fault by itself, or a symptom or look that tells it. */
  readonly about: "how common" | { readonly finding: string };
  readonly value: Probability;
  /** "starter value, judgement", a published source, or "shop history, 3 of 20". */
  readonly origin: string;
}

/** Every number about this fault on this fixture, the prior first. */
export function numbersOf(fault: FaultId, fitted: readonly Fitted[], learned: Learned): readonly Sourced[] {
  const { faults, symptoms } = networkFor(fitted, learned);
  const { origin } = knownFault(fault);
  const prior = faults.find(({ id }) => id === fault);
  if (!prior) return [];
  const links = symptoms.flatMap(({ id, links: row }): readonly Sourced[] => {
    const value = row[fault];
    if (value === undefined) return [];
    return [{ fault, about: { finding: id }, value, origin: originOf(learned.links[id]?.[fault], origin) }];
  });
  return [
    { fault, about: "how common", value: prior.prior, origin: originOf(learned.priors[fault], origin) },
    ...links,
  ];
}

const originOf = (figure: Figure | undefined, starter: string): string =>
  figure ? `shop history, ${figure.yes} of ${figure.of}` : starter;

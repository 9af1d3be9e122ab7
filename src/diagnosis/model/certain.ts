import type { Probability } from "../../domain/units.ts";
import { tempered } from "./claims.ts";
import type { Weighed } from "./evidence.ts";
import { inferNone } from "./infer.ts";
import { type FaultId, isFault } from "./knowledge/faults.ts";
import { effectsOf } from "./layers.ts";
import type { Learned } from "./shop.ts";

/** What is called conclusive may be wrong once in twenty times: the claim after the odds were tempered, not the model's own. */
export const CONCLUSIVE: Probability = 0.95;
/** How probable "nothing broken" must be, by the model's own odds, before nothing is opened for it. */
const CLEAN: Probability = 0.975;

/** Faults that are claimed conclusively, the likeliest first. */
export const certainOf = (likely: Readonly<Record<string, Probability>>, { temper }: Learned): readonly FaultId[] =>
  Object.entries(likely)
    .filter(([, probability]) => tempered(probability, temper.power) >= CONCLUSIVE)
    .sort(([, a], [, b]) => b - a)
    .flatMap(([id]) => (isFault(id) ? [id] : []));

/** What the certain faults bring about is no puzzle any more. */
export function withoutExplained(weighed: Weighed, certain: readonly FaultId[]): Weighed {
  const sure = weighed.foreseen.faults.filter(({ id }) => certain.some((one) => one === id));
  const explained = new Set(sure.flatMap((fault) => effectsOf(fault).flatMap(({ links }) => [...links.keys()])));
  const present = weighed.evidence.present.filter((id) => !explained.has(id));
  return { ...weighed, evidence: { ...weighed.evidence, present } };
}

/**
 * Whether nothing more needs asking: what is certain explains all, or nothing was reported and nothing is likely to be wrong. A
 * word that nothing certain explains leaves it open: somebody may have seen a second fault, or the first.
 */
export function isSettled(
  { network, evidence, reported }: Weighed,
  certain: readonly FaultId[],
  unexplained: readonly string[],
): boolean {
  if (certain.length > 0) return unexplained.length === 0;
  const none = inferNone(network, evidence);
  return (reported.length === 0 && none >= CLEAN) || (evidence.present.length === 0 && none >= 0.5);
}

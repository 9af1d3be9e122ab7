import type { Probability } from "../../domain/units.ts";
import { evidenceFrom } from "./evidence.ts";
import { likeliestSets } from "./joint.ts";
import { type FaultId, knownFault } from "./knowledge/faults.ts";
import type { Fitted } from "./network.ts";
import type { InspectionAnswer, Observation } from "./observation.ts";
import { type Learned, NOTHING_LEARNED } from "./shop.ts";
import { fewEnough } from "./telling.ts";

/** Faults that may be there at once, and nothing else wrong. */
export interface Together {
  readonly faults: readonly { readonly id: FaultId; readonly title: string }[];
  readonly probability: Probability;
}

/** The likeliest answers to "what is wrong with this fixture, all in all"; an empty set is "nothing broken". */
export const rankTogether = (
  fitted: readonly Fitted[],
  observations: readonly Observation[],
  answers: readonly InspectionAnswer[],
  count: number,
  learned: Learned = NOTHING_LEARNED,
): readonly Together[] => {
  const { network, evidence } = fewEnough(evidenceFrom(fitted, observations, answers, learned)).weighed;
  return likeliestSets(network, evidence, count).map(({ faults, probability }) => ({
    faults: faults.map((id) => ({ id: id as FaultId, title: knownFault(id as FaultId).title })),
    probability,
  }));
};

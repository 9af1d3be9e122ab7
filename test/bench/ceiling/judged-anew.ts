import { loadMaterial, type Names } from "../../../src/app/common/data.ts";
import { simBench } from "../../../src/app/simulated/sim-bench.ts";
import { faultNames, plannedOnly, settledIn, type TriedCase } from "../../../src/app/simulated/trial-case.ts";
import { fittedOf } from "../../../src/data/profile/profile.ts";
import { type Advice, whatNext } from "../../../src/diagnosis/model/next.ts";
import type { InspectionAnswer, Observation } from "../../../src/diagnosis/model/observation.ts";
import type { Fitted } from "../../../src/diagnosis/model/places.ts";
import type { Drivable } from "../../../src/diagnosis/model/probe.ts";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import { NOTHING_LEARNED } from "../../../src/diagnosis/model/shop.ts";
import type { CoverId } from "../../../src/domain/trade/hold-points.ts";
import { inspection } from "../../../src/domain/trade/inspections.ts";
import { fileLibrary } from "../../../src/io/files/files.ts";
import type { Hands } from "../../../src/sim/watcher.ts";
import { must } from "../../kit/shipped.ts";

/**
 * What today's model makes of cases that were watched before: what is seen in the planned steps does not hang on the model, so
 * nothing is simulated again but the hands. Only inspections follow; the movements that were added then are left out.
 */
export const judgedAnew = (cases: readonly TriedCase[], names: Names, inspections: number): readonly TriedCase[] => {
  const material = must(loadMaterial(fileLibrary(), names));
  const fitted = fittedOf(material.profile.value);
  return cases.map((one) => {
    const { set, seed } = one;
    const { hands } = must(simBench(material, { address: 1, set, seed, drawFrom: "all", copy: "made" }));
    const seen = plannedOnly(one);
    const { answers, advice } = inspectOffered(fitted, seen, hands, inspections);
    return {
      ...one,
      rankedBefore: faultNames(rank(fitted, seen).faults),
      ranked: faultNames(rank(fitted, seen, answers).faults),
      settled: settledIn(advice),
      followUps: 0,
      tests: [],
      inspected: answers,
      closedAfter: [],
      observations: seen,
    };
  });
};

/** Nothing can be driven: only the hands are simulated again. */
const STANDS: Drivable = { canRun: () => false, leaning: undefined };

/** Makes an inspection as long as one is offered first, with covers that stay off. `most` is how many at most, from 0. */
function inspectOffered(
  fitted: readonly Fitted[],
  seen: readonly Observation[],
  hands: Hands,
  most: number,
  answers: readonly InspectionAnswer[] = [],
  open: readonly CoverId[] = [],
): { readonly answers: readonly InspectionAnswer[]; readonly advice: Advice } {
  const advice = whatNext(fitted, seen, answers, open, NOTHING_LEARNED, STANDS);
  const first = advice.kind === "offers" ? advice.offers[0] : undefined;
  if (most <= 0 || first?.kind !== "inspection") return { answers, advice };
  const { inspection: id } = first;
  const after = [...answers, { inspection: id, answer: hands.look(id) }];
  return inspectOffered(fitted, seen, hands, most - 1, after, [...new Set([...open, inspection(id).cover])]);
}

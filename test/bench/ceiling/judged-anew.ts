import { loadMaterial, type Names } from "../../../src/app/common/data.ts";
import { simBench } from "../../../src/app/simulated/sim-bench.ts";
import {
  faultNames,
  inspectOffered,
  STANDS,
  settledIn,
  type TriedCase,
} from "../../../src/app/simulated/trial-case.ts";
import { plannedOnly } from "../../../src/app/simulated/trial-report.ts";
import { fittedOf } from "../../../src/data/profile/profile.ts";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import { fileLibrary } from "../../../src/io/files/files.ts";
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
    const { answers, advice } = inspectOffered({ fitted, seen, drivable: STANDS }, [], hands, inspections);
    return {
      ...one,
      rankedBefore: faultNames(rank(fitted, seen).faults),
      ranked: faultNames(rank(fitted, seen, answers).faults),
      settled: settledIn(advice),
      followUps: 0,
      inspected: answers,
      observations: seen,
    };
  });
};

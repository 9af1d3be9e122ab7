import { FUNCTIONS } from "../../domain/trade/functions.ts";
import { SYMPTOMS, type SymptomId } from "../../domain/trade/symptoms.ts";
import type { NodeId } from "./node.ts";
import type { Observation, Report } from "./observation.ts";
import { canShow, type Finding, findingAt, type MovingPart, type Place, partOf, placeOf } from "./places.ts";

/** A finding of the run, and the steps in which it was reported. */
export interface Reported {
  readonly finding: Finding;
  readonly symptom: SymptomId;
  readonly sources: readonly { readonly observation: Observation; readonly report: Report }[];
}

/** Everything reported in the run, once each; a symptom reported anywhere is there, whatever passed elsewhere. */
export function reportsOf(parts: readonly MovingPart[], observations: readonly Observation[]): readonly Reported[] {
  const found = new Map<NodeId, Reported>();
  for (const observation of observations.filter(counts))
    for (const report of observation.symptoms) {
      const finding = findingAt(placeOfReport(parts, observation, report), report.symptom);
      const sources = [...(found.get(finding.id)?.sources ?? []), { observation, report }];
      found.set(finding.id, { finding, symptom: report.symptom, sources });
    }
  return [...found.values()];
}

/** The computer's own trouble and steps nobody did tell nothing of the fixture. */
const counts = ({ result }: Observation): boolean => result === "fail" || result === "unsure" || result === "pass";

function placeOfReport(
  parts: readonly MovingPart[],
  observation: Observation,
  { symptom, function: id }: Report,
): Place {
  if (SYMPTOMS[symptom].on === "fixture") return "fixture";
  if (id !== undefined) {
    const named = observation.functions.find((one) => one.function === id);
    return placeOf(partOf(parts, named ?? { function: id, mechanism: FUNCTIONS[id].mechanism }), symptom);
  }
  const able = new Set(
    observation.functions.flatMap((one) => {
      const part = partOf(parts, one);
      return part && canShow(part.mechanism, symptom) ? [part] : [];
    }),
  );
  const [only] = able;
  return able.size === 1 && only ? only : "fixture";
}

import { FUNCTIONS } from "../../domain/trade/functions.ts";
import { SYMPTOMS, type SymptomId } from "../../domain/trade/symptoms.ts";
import type { Fitted } from "./network.ts";
import type { Observation, Report } from "./observation.ts";
import { canShow, type FindingId, findingAt, isMoving, type Place, placeOf } from "./places.ts";

/** A finding of the run, and the steps in which it was reported. */
export interface Reported {
  readonly finding: FindingId;
  readonly place: Place;
  readonly symptom: SymptomId;
  readonly sources: readonly { readonly observation: Observation; readonly report: Report }[];
}

/** Everything reported in the run, once each; a symptom reported anywhere is there, whatever passed elsewhere. */
export function reportsOf(fitted: readonly Fitted[], observations: readonly Observation[]): readonly Reported[] {
  const found = new Map<FindingId, Reported>();
  for (const observation of observations.filter(counts))
    for (const report of observation.symptoms) {
      const place = placeOfReport(fitted, observation, report);
      const finding = findingAt(place, report.symptom);
      const sources = [...(found.get(finding)?.sources ?? []), { observation, report }];
      found.set(finding, { finding, place, symptom: report.symptom, sources });
    }
  return [...found.values()];
}

/** The rig's own trouble and steps nobody did tell nothing of the fixture. */
const counts = ({ result }: Observation): boolean => result === "fail" || result === "unsure" || result === "pass";

function placeOfReport(fitted: readonly Fitted[], observation: Observation, report: Report): Place {
  if (SYMPTOMS[report.symptom].on === "fixture") return "fixture";
  if (report.function !== undefined) return placeOf(mechanismOf(fitted, observation, report.function), report.symptom);
  const able = new Set(
    observation.functions.map(({ mechanism }) => mechanism).filter((id) => isMoving(id) && canShow(id, report.symptom)),
  );
  const [only] = able;
  return able.size === 1 && only ? only : "fixture";
}

const mechanismOf = (fitted: readonly Fitted[], observation: Observation, id: Fitted["function"]) =>
  [...observation.functions, ...fitted].find((one) => one.function === id)?.mechanism ?? FUNCTIONS[id].mechanism;

import type { InspectionId } from "../../domain/trade/inspections.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { Weighed } from "./evidence.ts";
import type { FaultId } from "./knowledge/faults.ts";
import type { NetworkSymptom } from "./network-shape.ts";
import type { Place } from "./places.ts";
import { sayLook, sayMissing, sayReport, sayUnnamed } from "./words.ts";

const SPEAKS_FOR = 0.01;
const SPEAKS_AGAINST = 0.25;
const AT_MOST = 4;

/** In plain words, the most telling first. */
export interface Reasons {
  readonly because: readonly string[];
  readonly against: readonly string[];
}

/** What was reported or found that each fault explains, and what each would probably have shown and did not. */
export function reasonsOf(weighed: Weighed): ReadonlyMap<FaultId, Reasons> {
  const symptoms = new Map(weighed.network.symptoms.map((symptom) => [symptom.id, symptom]));
  const pick = (ids: readonly string[]) => ids.flatMap((id) => symptoms.get(id) ?? []);
  const present = byFault(pick(weighed.evidence.present), SPEAKS_FOR, ({ leak }, link) => link / leak);
  const absent = byFault(pick(weighed.evidence.absent), SPEAKS_AGAINST, (_, link) => link);
  return new Map(
    weighed.network.faults.map(({ id }) => [
      id as FaultId,
      {
        because: (present.get(id) ?? []).map((finding) => sayFinding(finding, weighed)),
        against: (absent.get(id) ?? []).map(sayAbsent),
      },
    ]),
  );
}

/** All that was reported or found, in words. */
export const allReported = (weighed: Weighed): readonly string[] =>
  weighed.evidence.present.map((id) => sayFinding(id, weighed));

/** Of each fault the findings that weigh most. */
function byFault(
  symptoms: readonly NetworkSymptom[],
  least: number,
  weigh: (symptom: NetworkSymptom, link: number) => number,
): ReadonlyMap<string, readonly string[]> {
  const rows = new Map<string, { readonly finding: string; readonly weight: number }[]>();
  for (const symptom of symptoms)
    for (const [fault, link] of Object.entries(symptom.links))
      if (link >= least)
        rows.set(fault, [...(rows.get(fault) ?? []), { finding: symptom.id, weight: weigh(symptom, link) }]);
  return new Map([...rows].map(([fault, row]) => [fault, heaviest(row)]));
}

const heaviest = (row: readonly { readonly finding: string; readonly weight: number }[]): readonly string[] =>
  [...row]
    .sort((a, b) => b.weight - a.weight)
    .slice(0, AT_MOST)
    .map(({ finding }) => finding);

/** What speaks for something, by its id in the network. */
export function sayFinding(id: string, { reported, doubtful }: Weighed): string {
  const [place, what] = split(id);
  if (place === "inspection") return sayLook(what as InspectionId, doubtful.has(id) ? "unsure" : "bad");
  if (what === "unnamed") return sayUnnamed(place as Place);
  const sources = reported.find(({ finding }) => finding === id)?.sources ?? [];
  return sayReport({ place: place as Place, symptom: what as SymptomId, sources });
}

function sayAbsent(id: string): string {
  const [place, what] = split(id);
  return place === "inspection" ? sayLook(what as InspectionId, "good") : sayMissing(place as Place, what as SymptomId);
}

const split = (id: string): readonly [string, string] => {
  const at = id.lastIndexOf("/");
  return [id.slice(0, at), id.slice(at + 1)];
};

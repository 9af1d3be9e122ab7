import type { InspectionId } from "../trade/inspections.ts";
import type { SymptomId } from "../trade/symptoms.ts";
import type { Weighed } from "./evidence.ts";
import type { FaultId } from "./knowledge/faults.ts";
import type { NetworkSymptom } from "./network-shape.ts";
import type { Place } from "./places.ts";
import { sayLook, sayMissing, sayReport, sayUnnamed } from "./words.ts";

const SPEAKS_FOR = 0.04;
const SPEAKS_AGAINST = 0.25;
const AT_MOST = 4;

/** What was reported or found that this fault explains, the most telling first; without a fault: all of it. */
export const reasonsFor = (fault: FaultId | undefined, weighed: Weighed): readonly string[] =>
  strongest(weighed, weighed.evidence.present, (symptom) => (fault ? (symptom.links[fault] ?? 0) / symptom.leak : 1))
    .filter((symptom) => !fault || (symptom.links[fault] ?? 0) >= SPEAKS_FOR)
    .slice(0, fault ? AT_MOST : undefined)
    .map(({ id }) => sayFinding(id, weighed));

/** What this fault would probably have shown, and did not. */
export const reasonsAgainst = (fault: FaultId, weighed: Weighed): readonly string[] =>
  strongest(weighed, weighed.evidence.absent, (symptom) => symptom.links[fault] ?? 0)
    .filter((symptom) => (symptom.links[fault] ?? 0) >= SPEAKS_AGAINST)
    .slice(0, AT_MOST)
    .map(({ id }) => sayAbsent(id));

function strongest(
  { network }: Weighed,
  ids: readonly string[],
  weight: (symptom: NetworkSymptom) => number,
): readonly NetworkSymptom[] {
  const wanted = new Set(ids);
  return network.symptoms.filter(({ id }) => wanted.has(id)).sort((a, b) => weight(b) - weight(a));
}

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

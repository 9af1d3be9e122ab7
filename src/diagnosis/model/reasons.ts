import { functionWords } from "../../domain/trade/functions.ts";
import { type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import { SYMPTOMS, type SymptomId, symptomWords } from "../../domain/trade/symptoms.ts";
import type { Weighed } from "./evidence.ts";
import { type FaultId, isFault } from "./knowledge/faults.ts";
import { type LayeredFault, marginals } from "./layers.ts";
import { inspectionIn, type NodeId } from "./node.ts";
import { belongsToMover, type Place } from "./places.ts";
import type { Reported } from "./signs.ts";

const SPEAKS_FOR = 0.01;
const SPEAKS_AGAINST = 0.25;
const AT_MOST = 4;

/** What speaks for a fault and against it, in plain words, the most telling first. */
export interface Reasons {
  readonly because: readonly string[];
  readonly against: readonly string[];
}

/** What was reported or found that each fault explains, and what each would probably have shown and did not. */
export function reasonsOf(weighed: Weighed): ReadonlyMap<FaultId, Reasons> {
  const { foreseen, evidence } = weighed;
  const leaks = new Map(foreseen.symptoms.map(({ id, leak }) => [id, leak]));
  const present = new Set(evidence.present);
  const absent = new Set(evidence.absent);
  return new Map(
    foreseen.faults.flatMap((fault) => {
      const { id } = fault;
      if (!isFault(id)) return [];
      const links = [...marginals(fault)].map(([finding, link]) => ({ finding, link }));
      const because = heaviest(
        links
          .filter(({ finding, link }) => link >= SPEAKS_FOR && present.has(finding))
          .map(({ finding, link }) => ({ finding, weight: link / (leaks.get(finding) ?? 1) })),
      );
      const against = heaviest(
        links
          .filter(({ finding, link }) => link >= SPEAKS_AGAINST && absent.has(finding))
          .map(({ finding, link }) => ({ finding, weight: link })),
      );
      const reasons = {
        because: because.map((finding) => sayFinding(finding, weighed)),
        against: against.map((finding) => sayAbsent(finding, weighed)),
      };
      return [[id, reasons] as const];
    }),
  );
}

/** All that was reported or found, in words. */
export const allReported = (weighed: Weighed): readonly string[] =>
  weighed.evidence.present.map((id) => sayFinding(id, weighed));

/** A fault believed this much, that shows a finding this often, explains it. Judgement. */
const BELIEVED = 0.2;
const EXPLAINS = 0.04;

/** Findings that no fault that is believed in explains, by id. */
export const unexplainedIn = (weighed: Weighed, posteriors: Readonly<Record<string, number>>): readonly string[] =>
  unexplainedBy(
    weighed,
    weighed.foreseen.faults.flatMap(({ id }) => (isFault(id) && (posteriors[id] ?? 0) >= BELIEVED ? [id] : [])),
  );

/** Findings that none of these faults explains, by id. */
export function unexplainedBy({ foreseen, evidence }: Weighed, faults: readonly FaultId[]): readonly string[] {
  const links = foreseen.faults
    .filter(({ id }) => faults.some((one) => one === id))
    .map((fault) => marginals({ ...fault, ways: asIfAll(fault) }));
  return evidence.present.filter((id) => !links.some((shown) => (shown.get(id) ?? 0) >= EXPLAINS));
}

/** Whichever way it went. */
const asIfAll = ({ ways }: LayeredFault): LayeredFault["ways"] =>
  ways.length === 0 ? [] : [{ share: 1, effects: ways.flatMap(({ effects }) => effects) }];

/** The findings that weigh most for a fault. */
const heaviest = (row: readonly { readonly finding: string; readonly weight: number }[]): readonly string[] =>
  [...row]
    .sort((a, b) => b.weight - a.weight)
    .slice(0, AT_MOST)
    .map(({ finding }) => finding);

/** What speaks for something, by its id in the network. */
export function sayFinding(id: NodeId, { findings, reported, doubtful }: Weighed): string {
  const finding = findings.get(id);
  if (!finding) return sayLook(lookIn(id), doubtful.has(id) ? "unsure" : "bad");
  if (finding.what === "unnamed") return sayUnnamed(finding.place);
  const report = reported.find((one) => one.finding.id === id);
  return sayReport(report ?? { finding, symptom: finding.what, sources: [] });
}

function sayAbsent(id: NodeId, { findings }: Weighed): string {
  const finding = findings.get(id);
  return finding && finding.what !== "unnamed" ? sayMissing(finding.place, finding.what) : sayLook(lookIn(id), "good");
}

/** What is no finding of a part is an inspection. */
const lookIn = (id: NodeId): InspectionId => {
  const inspection = inspectionIn(id);
  if (inspection === undefined) throw new Error(`Bug: the network has no finding and no inspection ${id}`);
  return inspection;
};

/** "cyan sticks on the way"; "iris: opening is not round"; "reset itself, while pan moved". */
function sayReport({ finding: { place }, symptom, sources }: Reported): string {
  const functions = new Set(sources.flatMap(({ report }) => (report.function ? [report.function] : [])));
  const named = [...functions].map(functionWords);
  return place === "fixture" ? sayOfFixture(named, symptom) : sayOf(named.length > 0 ? named : [place.words], symptom);
}

function sayOfFixture(named: readonly string[], symptom: SymptomId): string {
  const words = symptomWords(symptom);
  if (SYMPTOMS[symptom].on === "fixture") return named.length > 0 ? `${words}, while ${named.join(", ")} moved` : words;
  if (SYMPTOMS[symptom].by === "light" && !belongsToMover(symptom)) return words;
  return named.length > 0 ? sayOf(named, symptom) : SENTENCES.has(symptom) ? words : `something ${words}`;
}

/** Something wrong at a place that nobody put a name to, in words. */
const sayUnnamed = (place: Place): string =>
  place === "fixture" ? "something was wrong, not said what" : `${place.words}: wrong, nobody said how`;

/** "not seen on the iris: opening is not round". */
const sayMissing = (place: Place, symptom: SymptomId): string =>
  place === "fixture"
    ? `not reported: ${symptomWords(symptom)}`
    : `not reported on the ${place.words}: ${symptomWords(symptom)}`;

/** The answer to an inspection in words: "pan belt edges: frayed, or rubber dust below". */
export const sayLook = (id: InspectionId, answer: "good" | "bad" | "unsure" | "not-asked"): string =>
  answer === "good" || answer === "bad"
    ? `${inspection(id).look}: ${inspection(id)[answer]}`
    : `${inspection(id).look}: ${answer === "unsure" ? "not sure" : "not asked"}`;

/** Words that are a whole sentence already and do not take a function for their subject. */
const SENTENCES: ReadonlySet<SymptomId> = new Set([
  "wobbles",
  "gobos-differ",
  "not-round",
  "leaks-light",
  "patchy",
  "wrong-shade",
  "late-flag",
  "crooked",
  "colour-dead",
  "dim",
  "tinted",
  "veil",
  "shadow",
  "flickers",
  "cuts-out",
  "display-dark",
  "fan-still",
  "nothing-moves",
  "wrong-thing",
  "short-range",
  "at-angle",
  "several-at-once",
  "head-shakes",
  "something-else-moved",
  "error-shown",
  "light-out",
  "went-dead",
  "fan-loud",
  "dimmer-steps",
]);

/** A symptom of something with these names, in words: "cyan sticks on the way", "iris: opening is not round". */
export const sayOf = (named: readonly string[], symptom: SymptomId): string =>
  SENTENCES.has(symptom) || named.length > 1
    ? `${named.join(", ")}: ${symptomWords(symptom)}`
    : `${named.join(", ")} ${symptomWords(symptom)}`;

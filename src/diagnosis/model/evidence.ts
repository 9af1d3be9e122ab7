import type { SymptomId } from "../../domain/trade/symptoms.ts";
import { type FaultId, knownFault } from "./knowledge/faults.ts";
import { type Fitted, mechanismsOf, networkFor } from "./network.ts";
import type { Evidence, Network, NetworkSymptom } from "./network-shape.ts";
import { type InspectionAnswer, type Observation, withFunctions } from "./observation.ts";
import { conditionOf, doubt, weighReport } from "./pattern.ts";
import { belongsToMover, type FindingId, findingAt, findingsOf, isMoving, placeOf } from "./places.ts";
import { type Reported, reportsOf } from "./reports.ts";
import { type Learned, NOTHING_LEARNED } from "./shop.ts";
import { chancesOf, silenceOf } from "./silence.ts";
import { unnamedTroubles } from "./unnamed.ts";

/** The network of this fixture with the watching reckoned into its links, and what speaks for and against its faults. */
export interface Weighed {
  readonly network: Network;
  readonly evidence: Evidence;
  readonly reported: readonly Reported[];
  /** Looks by hand that left somebody unsure. */
  readonly doubtful: ReadonlySet<string>;
}

/**
 * From what was watched and looked at to evidence. A pass speaks against a symptom only as far as that routine on that
 * function could have shown it and that watcher would have caught it; a symptom reported anywhere is there.
 */
export function evidenceFrom(
  fitted: readonly Fitted[],
  observations: readonly Observation[],
  answers: readonly InspectionAnswer[],
  learned: Learned = NOTHING_LEARNED,
): Weighed {
  const base = networkFor(fitted, learned);
  const watched = withFunctions(fitted, observations);
  const reported = reportsOf(fitted, watched);
  const present = [...presentIn(base, reported, watched), ...answered(base, answers, ["bad", "unsure"])];
  const absent = [...missing(base, fitted, watched, reported), ...answered(base, answers, ["good"])];
  const changed = new Map([...present, ...absent].map((symptom) => [symptom.id, symptom]));
  const known = base.symptoms.map((symptom) => changed.get(symptom.id) ?? symptom);
  const unnamed = present.filter(({ id }) => id.endsWith("/unnamed"));
  return {
    network: { faults: base.faults, symptoms: [...known, ...unnamed] },
    evidence: { present: present.map(({ id }) => id), absent: absent.map(({ id }) => id) },
    reported,
    doubtful: new Set(answered(base, answers, ["unsure"]).map(({ id }) => id)),
  };
}

const SEVERAL = findingAt("fixture", "several-at-once");

function presentIn(
  base: Network,
  reported: readonly Reported[],
  observations: readonly Observation[],
): readonly NetworkSymptom[] {
  const byId = new Map(base.symptoms.map((symptom) => [symptom.id, symptom]));
  const named = reported.flatMap((one) => {
    const symptom = byId.get(one.finding);
    return symptom ? [weighReport(symptom, one, observations)] : [];
  });
  const several = byId.get(SEVERAL);
  const derived = several && actsUpTogether(reported) ? [several] : [];
  return [...named, ...derived, ...unnamedTroubles(base, observations, new Set(reported.map(({ place }) => place)))];
}

/** Three mechanisms or more: rather one cause that they share than as many faults. */
function actsUpTogether(reported: readonly Reported[]): boolean {
  const places = new Set(reported.flatMap(({ place }) => (place !== "fixture" && isMoving(place) ? [place] : [])));
  return places.size >= 3 && !reported.some(({ finding }) => finding === SEVERAL);
}

/** What had its chance to show and was not reported; its links shrink to what the watching would have caught. */
function missing(
  base: Network,
  fitted: readonly Fitted[],
  observations: readonly Observation[],
  reported: readonly Reported[],
): readonly NetworkSymptom[] {
  const shown = new Set<FindingId>([...reported.map(({ finding }) => finding), SEVERAL]);
  const byId = new Map(base.symptoms.map((symptom) => [symptom.id, symptom]));
  return findingsOf(mechanismsOf(fitted)).flatMap(({ place, symptom }) => {
    const node = byId.get(findingAt(place, symptom));
    if (!node || shown.has(findingAt(place, symptom))) return [];
    if (place === "fixture" && belongsToMover(symptom)) return [];
    const copies = chancesOf(fitted, observations, place, symptom);
    if (copies.every((chances) => chances.length === 0)) return [];
    const silence = silenceOf(copies);
    const links = Object.entries(node.links)
      .filter(([id]) => place !== "fixture" || !showsAtItsMover(id, symptom))
      .map(([id, link]) => [id, link * silence(conditionOf(id))]);
    return [{ ...node, links: Object.fromEntries(links) }];
  });
}

/** A mover's symptom is denied where it would have been reported: at the mover. */
const showsAtItsMover = (fault: string, symptom: SymptomId): boolean =>
  placeOf(knownFault(fault as FaultId).mechanism, symptom) !== "fixture";

function answered(
  base: Network,
  answers: readonly InspectionAnswer[],
  kinds: readonly InspectionAnswer["answer"][],
): readonly NetworkSymptom[] {
  const last = new Map(answers.map((one) => [`inspection/${one.inspection}`, one.answer]));
  return base.symptoms.flatMap((symptom) => {
    const answer = last.get(symptom.id);
    if (answer === undefined || !kinds.includes(answer)) return [];
    return [answer === "unsure" ? doubt(symptom) : symptom];
  });
}

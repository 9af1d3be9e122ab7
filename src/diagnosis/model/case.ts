import type { Probability } from "../../domain/units.ts";
import { evidenceFrom, fewEnough } from "./evidence.ts";
import { chancesOf, silenceOf } from "./exposure.ts";
import { likeliest, NOTHING_BROKEN } from "./infer.ts";
import type { FaultId } from "./knowledge/faults.ts";
import { isStranger } from "./network.ts";
import { inspectionIn, type LearnedId, learnedInspection, learnedSymptom, STRUCK, symptomNode } from "./node.ts";
import { type InspectionAnswer, type Observation, withFunctions } from "./observation.ts";
import { type Finding, type Fitted, findingsOf, type Place, placeKey } from "./places.ts";
import { conditionOf } from "./signs.ts";

/** What is known for certain of one fixture that came back, and what was seen on it before. Plain data. */
export interface Case {
  /** Everything that was observed, reported or not; what was not observed is left out. */
  readonly findings: readonly CaseFinding[];
  /** Found to be there. */
  readonly confirmed: readonly string[];
  /** Looked for and not there. */
  readonly cleared: readonly string[];
  /** The faults that nobody looked for: unknown, unless the fixture passed a full test afterwards. */
  readonly rest: "unknown" | "absent";
  /** What the model said first, by its starter values. */
  readonly first: { readonly id: string; readonly probability: Probability };
}

export interface CaseFinding {
  readonly id: LearnedId;
  readonly seen: boolean;
  /** How surely the watching would have caught what each confirmed fault showed; certainly where a fault is left out. */
  readonly chance: Readonly<Record<string, Probability>>;
}

/** A fixture on which everything was watched and passed: it had nothing, and its findings teach nothing of any fault. */
export const CLEAN: Case = {
  findings: [],
  confirmed: [],
  cleared: [],
  rest: "absent",
  first: { id: NOTHING_BROKEN, probability: 1 },
};

/** Whether a fault is known not to have been there. */
export const isAbsent = (fault: string, { confirmed, cleared, rest }: Case): boolean =>
  !confirmed.includes(fault) && (rest === "absent" || cleared.includes(fault));

/** Whether somebody knows in the end what was wrong with the fixture, if anything was. */
export const isKnown = ({ confirmed, rest }: Case): boolean => confirmed.length > 0 || rest === "absent";

/** What came of the repair: which faults were there, which were looked for in vain, and whether all was tested after. */
export type Outcome = Pick<Case, "confirmed" | "cleared" | "rest"> & { readonly confirmed: readonly FaultId[] };

/** A case to learn from: a fixture's run before the repair, and what the repair showed. */
export function caseFrom(
  fitted: readonly Fitted[],
  observations: readonly Observation[],
  answers: readonly InspectionAnswer[],
  { confirmed, cleared, rest }: Outcome,
): Case {
  const { weighed } = fewEnough(evidenceFrom(fitted, observations, answers));
  const { evidence, parts, network } = weighed;
  const run = withFunctions(fitted, observations);
  const seen = new Set(evidence.present);
  const known = new Set([...seen, ...evidence.absent]);
  const watched = findingsOf(parts).filter(({ id }) => known.has(id));
  const struck = mostReported(watched.filter(({ id }) => seen.has(id)));
  const asCase = (finding: (typeof watched)[number], where: Parameters<typeof learnedSymptom>[0]): CaseFinding => ({
    id: learnedSymptom(where, finding.what),
    seen: seen.has(finding.id),
    chance: chances(confirmed, run, finding, seen.has(finding.id)),
  });
  return {
    findings: [
      ...merged(watched.map((one) => asCase(one, one.place === "fixture" ? "fixture" : one.place.mechanism))),
      ...watched.filter(({ place }) => place !== "fixture" && place.key === struck).map((one) => asCase(one, STRUCK)),
      ...[...known].flatMap((node): readonly CaseFinding[] => {
        const inspection = inspectionIn(node);
        return inspection === undefined
          ? []
          : [{ id: learnedInspection(inspection), seen: seen.has(node), chance: {} }];
      }),
    ],
    confirmed,
    cleared,
    rest,
    first: likeliest(network, evidence, (id) => !isStranger(id)),
  };
}

/** The part of which most was reported. */
function mostReported(findings: readonly Finding[]): string | undefined {
  const counts = new Map<string, number>();
  for (const { place } of findings) if (place !== "fixture") counts.set(place.key, (counts.get(place.key) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0];
}

/** Seen on one of several copies it was seen; the best chance that any of them had. */
function merged(findings: readonly CaseFinding[]): readonly CaseFinding[] {
  const byId = new Map<LearnedId, CaseFinding>();
  for (const finding of findings) {
    const other = byId.get(finding.id);
    if (!other || (finding.seen && !other.seen)) byId.set(finding.id, finding);
  }
  return [...byId.values()];
}

/** Reported in a step that was not thought able to show it. */
const UNFORESEEN: Probability = 0.5;

function chances(
  confirmed: readonly FaultId[],
  run: readonly Observation[],
  { place, what }: { readonly place: Place; readonly what: Parameters<typeof chancesOf>[2] },
  seen: boolean,
): CaseFinding["chance"] {
  // Where it was reported nobody overlooked it for something else.
  const heeded = seen ? run.map((one) => (one.result === "fail" ? { ...one, result: "pass" as const } : one)) : run;
  const silence = silenceOf(chancesOf(heeded, place, what));
  return Object.fromEntries(
    confirmed.map((fault) => [fault, silence(conditionOf(fault, symptomNode(placeKey(place), what))) || UNFORESEEN]),
  );
}

import { INSPECTION_IDS, type InspectionId } from "../../domain/trade/inspections.ts";
import { MECHANISM_IDS, type MechanismId } from "../../domain/trade/mechanisms.ts";
import { SYMPTOM_IDS, type SymptomId } from "../../domain/trade/symptoms.ts";

/**
 * The name of a node in a fixture's network: something found at a place, or an inspection that came out bad. Names are made
 * and read in this file only; elsewhere two of them are the same or they are not. A plain text fits where a name is wanted,
 * because networks from outside bring names of their own; a name of another kind does not.
 */
export type NodeId = string & { readonly names?: "node" };

/** The node of a symptom at a place, or of something there that nobody put a name to; `place` is the key of a part, or "fixture". */
export const symptomNode = (place: string, what: SymptomId | "unnamed"): NodeId => `${place}/${what}`;

/** The node of an inspection that came out bad. */
export const inspectionNode = (id: InspectionId): NodeId => `inspection/${id}`;

const INSPECTIONS_BY_NODE: ReadonlyMap<NodeId, InspectionId> = new Map(
  INSPECTION_IDS.map((id) => [inspectionNode(id), id]),
);

/** The inspection that a node stands for; undefined where it is something found at a place. */
export const inspectionIn = (node: NodeId): InspectionId | undefined => INSPECTIONS_BY_NODE.get(node);

/** The symptom that a node stands for, wherever it was found; undefined for what nobody put a name to, and for an inspection. */
export const symptomIn = (node: NodeId): SymptomId | undefined => {
  const known = symptoms.get(node);
  if (known) return known;
  const symptom = inspectionIn(node) ? undefined : SYMPTOM_IDS.find((id) => node.endsWith(`/${id}`));
  if (symptom) symptoms.set(node, symptom);
  return symptom;
};

/** Kept, because every link of every fault is asked about. */
const symptoms = new Map<NodeId, SymptomId>();

/**
 * Everything that can be found at a place, whatever fits it, each with the node of the same thing at the fixture as a whole;
 * `place` is the key of a part, or "fixture".
 */
export const nodesAt = (place: string): ReadonlyMap<NodeId, NodeId> => {
  const known = kept.get(place);
  if (known) return known;
  const whats = [...SYMPTOM_IDS, "unnamed"] as const;
  const nodes = new Map(whats.map((what) => [symptomNode(place, what), symptomNode("fixture", what)]));
  kept.set(place, nodes);
  return nodes;
};

/** Kept: there are few places, and a network is asked about each of them thousands of times. */
const kept = new Map<string, ReadonlyMap<NodeId, NodeId>>();

/** Whether any of these links leads to something at this place, the key of a part. */
export const leadsTo = (links: ReadonlyMap<NodeId, unknown>, place: string): boolean => {
  const there = nodesAt(place);
  return [...links.keys()].some((node) => there.has(node));
};

/** Stands for the part that a fault has struck, where that can be any. */
export const STRUCK = "struck";

/**
 * The name of what is learned, alike for every kind of fixture: a symptom at a mechanism whichever copy of it, at the part that
 * was struck where the fault may strike any, or of the fixture as a whole; or an inspection. It is kept in the journal's tables.
 */
export type LearnedId = string & { readonly names?: "learned" };

/** What a name of the shop's own numbers stands for. */
type LearnedThing =
  | { readonly kind: "symptom"; readonly where: MechanismId | "fixture" | typeof STRUCK; readonly symptom: SymptomId }
  | { readonly kind: "inspection"; readonly inspection: InspectionId };

/** The name of a symptom as it is learned. */
export const learnedSymptom = (where: MechanismId | "fixture" | typeof STRUCK, symptom: SymptomId): LearnedId =>
  `${where}/${symptom}`;

/** The name of an inspection as it is learned. */
export const learnedInspection = (id: InspectionId): LearnedId => `inspection/${id}`;

const LEARNED: ReadonlyMap<LearnedId, LearnedThing> = new Map([
  ...(["fixture", STRUCK, ...MECHANISM_IDS] as const).flatMap((where) =>
    SYMPTOM_IDS.map((symptom): [LearnedId, LearnedThing] => [
      learnedSymptom(where, symptom),
      { kind: "symptom", where, symptom },
    ]),
  ),
  ...INSPECTION_IDS.map((id): [LearnedId, LearnedThing] => [
    learnedInspection(id),
    { kind: "inspection", inspection: id },
  ]),
]);

/** What a name of the shop's own numbers stands for; undefined for a symptom or an inspection that is on no list any more. */
export const learnedThing = (id: LearnedId): LearnedThing | undefined => LEARNED.get(id);

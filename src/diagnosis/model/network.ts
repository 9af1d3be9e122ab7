import type { FunctionId } from "../../domain/trade/functions.ts";
import { type InspectionId, inspectionsOf } from "../../domain/trade/inspections.ts";
import type { MechanismId } from "../../domain/trade/mechanisms.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import { SYMPTOMS } from "../../domain/trade/symptoms.ts";
import type { Probability } from "../../domain/units.ts";
import type { SymptomKey } from "./knowledge/entry.ts";
import { FAULTS, type KnownFault } from "./knowledge/faults.ts";
import { inspectionLeak, leakOf } from "./knowledge/leaks.ts";
import type { Network, NetworkSymptom } from "./network-shape.ts";
import { canShow, type FindingId, findingAt, findingsOf, isMoving, type Place, placeOf } from "./places.ts";
import { type Learned, NOTHING_LEARNED } from "./shop.ts";

/** A function of this fixture and the mechanism that moves it. */
export interface Fitted {
  readonly function: FunctionId;
  readonly mechanism: MechanismId;
}

/** What every moving light has, whatever its functions. */
const ALWAYS_THERE: readonly MechanismId[] = [
  "yoke-loom",
  "light-engine",
  "optics",
  "cooling",
  "power-supply",
  "control",
  "chassis",
];

export const mechanismsOf = (fitted: readonly Fitted[]): ReadonlySet<MechanismId> =>
  new Set([...fitted.map(({ mechanism }) => mechanism), ...ALWAYS_THERE]);

/**
 * The faults that this fixture can have, and all that can be reported or looked at on it: `mechanism/symptom`,
 * `fixture/symptom`, `inspection/id`. With the shop's history where there is any.
 */
export const networkFor = (fitted: readonly Fitted[], learned: Learned = NOTHING_LEARNED): Network =>
  withHistory(starterFor(mechanismsOf(fitted)), learned);

/** Kept, since a shop has few kinds of fixtures and asks about them thousands of times when it learns from its journal. */
const starters = new Map<string, Network>();
const starterFor = (mechanisms: ReadonlySet<MechanismId>): Network => {
  const key = [...mechanisms].join();
  const kept = starters.get(key) ?? starterOf(mechanisms);
  starters.set(key, kept);
  return kept;
};

function starterOf(mechanisms: ReadonlySet<MechanismId>): Network {
  const faults = FAULTS.filter(({ mechanism }) => mechanisms.has(mechanism));
  const links = linksOf(faults, mechanisms);
  const symptoms = findingsOf(mechanisms).map(
    ({ place, symptom }): NetworkSymptom => ({
      id: findingAt(place, symptom),
      leak: leakOf(symptom),
      links: Object.fromEntries(links.get(findingAt(place, symptom)) ?? []),
    }),
  );
  return {
    faults: faults.map(({ id, prior }) => ({ id, prior })),
    symptoms: [...symptoms, ...looksOf(faults, mechanisms)],
  };
}

/** The shop's own numbers in place of the starter values, where there are any. */
const withHistory = ({ faults, symptoms }: Network, { priors, links }: Learned): Network => ({
  faults: faults.map(({ id, prior }) => ({ id, prior: priors[id]?.value ?? prior })),
  symptoms: symptoms.map((symptom) => {
    const own = Object.entries(links[symptom.id] ?? {}).filter(([fault]) => fault in symptom.links);
    const changed = Object.fromEntries(own.map(([fault, { value }]) => [fault, value]));
    return own.length > 0 ? { ...symptom, links: { ...symptom.links, ...changed } } : symptom;
  }),
});

type Links = Map<FindingId, Map<string, Probability>>;

/** Two ways to the same symptom are two chances for it. */
function linksOf(faults: readonly KnownFault[], mechanisms: ReadonlySet<MechanismId>): Links {
  const links: Links = new Map();
  for (const fault of faults)
    for (const [finding, probability] of shownBy(fault, mechanisms)) {
      const row = links.get(finding) ?? new Map<string, Probability>();
      row.set(fault.id, 1 - (1 - (row.get(fault.id) ?? 0)) * (1 - probability));
      links.set(finding, row);
    }
  return links;
}

/** A report that names no function may come from any mechanism, but people seldom leave the name out. */
const UNPLACED = 0.4;

function shownBy(fault: KnownFault, mechanisms: ReadonlySet<MechanismId>): readonly [FindingId, Probability][] {
  return Object.entries(fault.shows).flatMap(([key, probability]) => {
    const symptom = symptomOf(key as SymptomKey);
    const placed = placesOf(fault, key as SymptomKey, mechanisms);
    const shared = key.startsWith("one/") ? placed.length : 1;
    const unplaced = placed.filter((place) => place !== "fixture").slice(0, 1);
    return [
      ...placed.map((place): [FindingId, Probability] => [findingAt(place, symptom), probability / shared]),
      ...unplaced.map((): [FindingId, Probability] => [findingAt("fixture", symptom), probability * UNPLACED]),
    ];
  });
}

const symptomOf = (key: SymptomKey): SymptomId => key.slice(key.lastIndexOf("/") + 1) as SymptomId;

function placesOf(fault: KnownFault, key: SymptomKey, mechanisms: ReadonlySet<MechanismId>): readonly Place[] {
  const symptom = symptomOf(key);
  const where = key in SYMPTOMS ? fault.mechanism : key.slice(0, key.lastIndexOf("/"));
  if (where === "fixture") return ["fixture"];
  if (where === "any" || where === "one") return [...mechanisms].filter((id) => isMoving(id) && canShow(id, symptom));
  const mechanism = where as MechanismId;
  return mechanisms.has(mechanism) ? [placeOf(mechanism, symptom)] : [];
}

function looksOf(faults: readonly KnownFault[], mechanisms: ReadonlySet<MechanismId>): readonly NetworkSymptom[] {
  const links = new Map<string, [string, Probability][]>(inspectionsOf(mechanisms).map((id) => [id, []]));
  for (const fault of faults)
    for (const [id, probability] of Object.entries(fault.found)) links.get(id)?.push([fault.id, probability]);
  return [...links].map(([id, row]) => ({
    id: `inspection/${id}`,
    leak: inspectionLeak(id as InspectionId),
    links: Object.fromEntries(row),
  }));
}

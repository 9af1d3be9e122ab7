import { entriesOf } from "../../domain/keys.ts";
import { inspectionsOf } from "../../domain/trade/inspections.ts";
import { MECHANISM_IDS, type MechanismId } from "../../domain/trade/mechanisms.ts";
import { SYMPTOM_IDS, SYMPTOMS, type SymptomId } from "../../domain/trade/symptoms.ts";
import type { Probability } from "../../domain/units.ts";
import { MOSTLY, NEARLY_ALWAYS } from "./knowledge/effect.ts";
import { EFFECTS, type EffectId, type EffectTable, shownOn } from "./knowledge/effects.ts";
import type { FaultEffect } from "./knowledge/entry.ts";
import { FAULTS, type KnownFault } from "./knowledge/faults.ts";
import { inspectionLeak, leakOf } from "./knowledge/leaks.ts";
import type { LayeredFault, LayeredNetwork, NetworkEffect, Way } from "./layers.ts";
import { inspectionNode, type NodeId } from "./node.ts";
import {
  belongsToMover,
  canShow,
  type Fitted,
  findingAt,
  findingsOf,
  isMoving,
  isRing,
  type MovingPart,
  mechanismsOf,
  partsOf,
  placeOf,
} from "./places.ts";
import { type Group, groupsFor } from "./ways.ts";

/** The network of a kind of fixture, and the parts that its findings stand at. */
export interface FixtureNetwork extends LayeredNetwork {
  readonly parts: readonly MovingPart[];
}

/**
 * The network of a fixture: the faults that it can have, the physical effects between, and what can be
 * reported or inspected: `part/symptom`, `fixture/symptom`, `inspection/id`. Kept, since a shop has few kinds
 * of fixtures and asks about them often.
 */
export function networkFor(fitted: readonly Fitted[]): FixtureNetwork {
  const key = fitted.map(({ function: id, mechanism }) => `${id} ${mechanism}`).join();
  const network = kept.get(key) ?? buildNetwork(fitted, EFFECTS);
  kept.set(key, network);
  return network;
}

const kept = new Map<string, FixtureNetwork>();

/** The network of a fixture with a table of effects of one's own: what a link is good for is seen by taking it out. */
export function buildNetwork(fitted: readonly Fitted[], effects: EffectTable): FixtureNetwork {
  const table = remembering(effects);
  const mechanisms = mechanismsOf(fitted);
  const parts = partsOf(fitted);
  const looks = inspectionsOf(mechanisms);
  return {
    parts,
    faults: [
      ...FAULTS.filter(({ mechanism }) => mechanisms.has(mechanism)).map((fault) => faultIn(fault, parts, table)),
      ...strangersIn(mechanisms, parts),
    ],
    symptoms: [
      ...findingsOf(parts).map(({ id, what }) => ({ id, leak: leakOf(what) })),
      ...looks.map((id) => ({ id: inspectionNode(id), leak: inspectionLeak(id) })),
    ],
  };
}

/** What an effect shows on a mechanism. */
type Shows = (effect: EffectId, mechanism: MechanismId) => ReadonlyMap<SymptomId, Probability>;

/** The same few are asked for thousands of times while a network is built. */
function remembering(effects: EffectTable): Shows {
  const known = new Map<string, ReadonlyMap<SymptomId, Probability>>();
  return (effect, mechanism) => {
    const shown = known.get(`${effect} ${mechanism}`) ?? shownOn(effect, mechanism, effects);
    known.set(`${effect} ${mechanism}`, shown);
    return shown;
  };
}

function faultIn(fault: KnownFault, parts: readonly MovingPart[], table: Shows): LayeredFault {
  const copies = parts.filter((part) => part.mechanism === fault.mechanism && !isRing(part));
  const grouped = fault.does.filter(({ on }) => isGrouped(on) || (on === "here" && copies.length > 1));
  const single = fault.does.filter((one) => !grouped.includes(one));
  const everywhere = single.flatMap((one) =>
    isOnFixture(one, fault.mechanism)
      ? [onFixture(one, fault.mechanism, parts, table)]
      : targets(one, fault, parts).map((part) => onPart(one.effect, one.often, part, table)),
  );
  return {
    id: fault.id,
    prior: fault.prior,
    effects: [...everywhere, seenByHand(fault)],
    ways: groupsFor(grouped, copies, parts).map((group) => wayOf(group, grouped, fault, parts, table)),
  };
}

const isGrouped = (on: FaultEffect["on"]): boolean => on === "one" || on === "board" || on === "loom" || on === "each";

/** What hits all parts at all times leaves hardly one out; what comes and goes, some. What hits several at once is also seen as several at once: a common cause is worth more than its single signs. */
function wayOf(
  { share, parts: hit }: Group,
  grouped: readonly FaultEffect[],
  { mechanism, when }: KnownFault,
  parts: readonly MovingPart[],
  table: Shows,
): Way {
  const ofAll = when === "always" ? NEARLY_ALWAYS : OF_SEVERAL;
  const effects = grouped.flatMap(({ effect, on, often }) =>
    hit.map((part) => onPart(effect, on === "each" ? ofAll : hit.length > 1 ? OF_SEVERAL : often, part, table)),
  );
  const together = { effect: "several-drop-out", often: MOSTLY } as const;
  const comesAndGoes = hit.length > 1 && grouped.some(({ effect }) => COMES_AND_GOES.has(effect));
  return { share, effects: comesAndGoes ? [...effects, onFixture(together, mechanism, parts, table)] : effects };
}

/** The share of the parts on one plug, or of all that hear the same gaps, that show it in one run. Judgement. */
const OF_SEVERAL: Probability = 0.5;

/** What hits several parts at the same moment is seen to; what is wrong with each all the time is not. */
const COMES_AND_GOES: ReadonlySet<EffectId> = new Set(["contact-opens", "hears-in-gaps", "weak-drive"]);

const isOnFixture = ({ on }: FaultEffect, own: MechanismId): boolean =>
  on === "fixture" ||
  (on === "here" ? !isMoving(own) : on !== "ring" && !isGrouped(on) && !isMoving(on as MechanismId));

const targets = (
  { on }: FaultEffect,
  { mechanism }: KnownFault,
  parts: readonly MovingPart[],
): readonly MovingPart[] => {
  if (on === "ring") return parts.filter(isRing);
  const wanted = on === "here" ? mechanism : on;
  return parts.filter((part) => part.mechanism === wanted && !isRing(part));
};

/** A report that names no function may come from any mechanism, but people seldom leave the name out. */
const UNPLACED: Probability = 0.4;
/** What belongs to something else is said of the fixture now and then. */
const ASIDE: Probability = 0.45;

function onPart(effect: EffectId, often: Probability, part: MovingPart, table: Shows): NetworkEffect {
  const links = new Map<NodeId, Probability>();
  for (const [symptom, link] of table(effect, part.mechanism)) {
    const whole = findingAt("fixture", symptom).id;
    const place = placeOf(part, symptom);
    if (place !== "fixture") {
      links.set(findingAt(place, symptom).id, link);
      links.set(whole, link * UNPLACED);
    } else if (SYMPTOMS[symptom].on === "fixture") links.set(whole, link);
    else if (!belongsToMover(symptom)) links.set(whole, link * ASIDE);
  }
  return { probability: often, links };
}

/** What only the light shows, or is only heard, is put down to whatever moves just then. */
const PUT_DOWN = { light: 0.25, ear: 0.1, eye: 0.1, nose: 0 } as const;

function onFixture(
  { effect, often }: Pick<FaultEffect, "effect" | "often">,
  mechanism: MechanismId,
  parts: readonly MovingPart[],
  table: Shows,
): NetworkEffect {
  const links = new Map<NodeId, Probability>();
  for (const [symptom, link] of table(effect, mechanism)) {
    links.set(findingAt("fixture", symptom).id, link);
    const share = link * PUT_DOWN[SYMPTOMS[symptom].by];
    for (const part of parts)
      if (canShow(part.mechanism, symptom) && share > 0) links.set(findingAt(part, symptom).id, share);
  }
  return { probability: often, links };
}

const seenByHand = ({ found }: KnownFault): NetworkEffect => ({
  probability: 1,
  links: new Map(entriesOf(found).map(([id, told]) => [inspectionNode(id), told])),
});

/** One head of ten or so has something that stands on no list. Judgement. */
const STRANGE = { part: 0.004, fixture: 0.02 } as const;
/** It may show as anything, nobody knows as what. */
const SHOWN_BY_A_STRANGER: Probability = 0.12;

/** Whatever is wrong that stands on no list: a claim must leave room for it. */
const strangersIn = (mechanisms: ReadonlySet<MechanismId>, parts: readonly MovingPart[]): readonly LayeredFault[] => [
  ...parts.map((part) =>
    stranger(
      part.key,
      STRANGE.part,
      SYMPTOM_IDS.filter((symptom) => canShow(part.mechanism, symptom)).map((symptom) => findingAt(part, symptom).id),
    ),
  ),
  stranger(
    "fixture",
    STRANGE.fixture,
    SYMPTOM_IDS.filter((symptom) => !belongsToMover(symptom) && somewhere(mechanisms, symptom)).map(
      (symptom) => findingAt("fixture", symptom).id,
    ),
  ),
];

const somewhere = (mechanisms: ReadonlySet<MechanismId>, symptom: SymptomId): boolean =>
  SYMPTOMS[symptom].on === "fixture" || MECHANISM_IDS.some((id) => mechanisms.has(id) && canShow(id, symptom));

const stranger = (key: string, prior: Probability, findings: readonly NodeId[]): LayeredFault => ({
  id: `${STRANGER}${key}`,
  prior,
  effects: [{ probability: 1, links: new Map(findings.map((id) => [id, SHOWN_BY_A_STRANGER])) }],
  ways: [],
});

const STRANGER = "something else ";
/** Whether a fault stands for what is on no list; it has no name and no remedy and is never ranked. */
export const isStranger = (fault: string): boolean => fault.startsWith(STRANGER);

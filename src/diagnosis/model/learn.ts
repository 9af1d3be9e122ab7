import { keysOf } from "../../domain/keys.ts";
import { FUNCTIONS } from "../../domain/trade/functions.ts";
import { MECHANISM_IDS } from "../../domain/trade/mechanisms.ts";
import { SYMPTOM_IDS } from "../../domain/trade/symptoms.ts";
import type { Probability } from "../../domain/units.ts";
import { type Case, isKnown } from "./case.ts";
import { type KeptClaim, temperOf } from "./claims.ts";
import { type FaultId, isOneOfMany, knownFault } from "./knowledge/faults.ts";
import { type LayeredFault, marginals, type Network } from "./layers.ts";
import { type Beta, learnLinks } from "./learn-links.ts";
import { type FixtureNetwork, isStranger, networkFor } from "./network.ts";
import {
  inspectionIn,
  type LearnedId,
  leadsTo,
  learnedInspection,
  learnedSymptom,
  type NodeId,
  STRUCK,
} from "./node.ts";
import { canShow, findingAt, isMoving, type MovingPart } from "./places.ts";
import { type Figure, type Learned, PRIOR_WEIGHT } from "./shop.ts";

/** How many cases a starter link counts for. Judgement. */
const LINK_WEIGHT = 8;

/** The shop's numbers from all its cases, calculated from the starter values each time. */
export function learn(network: Network, cases: readonly Case[]): Learned {
  const returned = cases.filter(isKnown);
  const clean = returned.filter(({ confirmed }) => confirmed.length === 0).length;
  return {
    priors:
      returned.length === 0
        ? {}
        : Object.fromEntries(network.faults.map(({ id, prior }) => [id, learnPrior(id, prior, returned)])),
    links: learnLinks(network, cases, (link) => ({ a: 1 + link * LINK_WEIGHT, b: 1 + (1 - link) * LINK_WEIGHT })).links,
    clean: { value: returned.length === 0 ? 0 : clean / returned.length, yes: clean, of: returned.length },
    temper: temperOf(cases.filter(({ confirmed }) => confirmed.length > 0).map(claimIn)),
  };
}

/** What was said first by numbers that had learned from no case at all, so not from this one either. */
const claimIn = ({ first, confirmed }: Case): KeptClaim => ({
  probability: first.probability,
  right: confirmed.includes(first.id),
});

/**
 * How often a fixture that comes back has it: of all that came back and of which it is known in the end what they had, clean
 * ones included. Beta prior and counting.
 */
function learnPrior(fault: string, prior: Probability, returned: readonly Case[]): Figure {
  const yes = returned.filter(({ confirmed }) => confirmed.includes(fault)).length;
  const { mean } = betaUpdate({ a: prior * PRIOR_WEIGHT, b: (1 - prior) * PRIOR_WEIGHT }, yes, returned.length);
  return { value: mean, yes, of: returned.length };
}

/** Beta(a, b) after `yes` hits out of `of` tries, both counted from 0, with its mean. */
export const betaUpdate = ({ a, b }: Beta, yes: number, of: number): Beta & { readonly mean: Probability } => ({
  a: a + yes,
  b: b + of - yes,
  mean: (a + yes) / (a + b + of),
});

/** A fixture that has every mechanism: what one kind of fixture teaches about a mechanism counts for the others. */
const EVERYTHING = [
  ...MECHANISM_IDS.map((mechanism) => ({
    mechanism,
    function: keysOf(FUNCTIONS).find((id) => FUNCTIONS[id].mechanism === mechanism) ?? "Pan",
  })),
  { mechanism: "framing-blades" as const, function: "ShaperRot" as const },
];

/**
 * The network that the shop's cases are learned into, without its middle layer, with its starter
 * values. Built when it is first needed.
 */
export const wholeTrade = (): Network => {
  built ??= flattened(networkFor(EVERYTHING));
  return built;
};

let built: Network | undefined;

/** What a fault may show although no link says so: a case may teach it. */
const UNTHOUGHT_OF: Probability = 0.01;

function flattened(network: FixtureNetwork): Network {
  const faults = network.faults.filter(({ id }) => !isStranger(id));
  const rows = new Map<LearnedId, Record<string, Probability>>();
  const leaks = new Map<LearnedId, Probability>();
  const leakAt = new Map(network.symptoms.map(({ id, leak }) => [id, leak]));
  const put = (key: LearnedId, fault: string, link: Probability, leak: Probability) => {
    const row = rows.get(key) ?? {};
    rows.set(key, row);
    row[fault] = Math.max(row[fault] ?? 0, link);
    leaks.set(key, leak);
  };
  for (const fault of faults)
    for (const { key, id, link } of [...shownAt(fault, network.parts), ...struckBy(fault, network.parts)])
      put(key, fault.id, link, leakAt.get(id) ?? 0);
  return {
    faults: faults.map(({ id, prior }) => ({ id, prior })),
    symptoms: [...rows].map(([id, links]) => ({ id, leak: leaks.get(id) ?? 0, links })),
  };
}

interface ShownLink {
  readonly key: LearnedId;
  /** The id of the finding it stands for, or of one like it. */
  readonly id: NodeId;
  readonly link: Probability;
}

/** Whatever a fault shows anywhere, and on its own mechanism also what nobody thought of. */
function shownAt(fault: LayeredFault, parts: readonly MovingPart[]): readonly ShownLink[] {
  const links = marginals(isOneOfMany(fault.id) ? { ...fault, ways: [] } : fault);
  const own = knownFault(fault.id as FaultId).mechanism;
  const atParts = parts.flatMap((part) =>
    SYMPTOM_IDS.filter((symptom) => canShow(part.mechanism, symptom)).map((symptom) => {
      const { id } = findingAt(part, symptom);
      return {
        key: learnedSymptom(part.mechanism, symptom),
        id,
        link: links.get(id) ?? (part.mechanism === own ? UNTHOUGHT_OF : 0),
      };
    }),
  );
  const whole = SYMPTOM_IDS.map((symptom) => {
    const { id } = findingAt("fixture", symptom);
    return { key: learnedSymptom("fixture", symptom), id, link: links.get(id) ?? (isMoving(own) ? 0 : UNTHOUGHT_OF) };
  });
  const looks = [...links].flatMap(([id, link]): readonly ShownLink[] => {
    const inspection = inspectionIn(id);
    return inspection === undefined ? [] : [{ key: learnedInspection(inspection), id, link }];
  });
  return [...atParts, ...whole, ...looks].filter(({ link }) => link > 0);
}

/** What a fault that may strike any part shows at the one it has struck, on the average of those that can show it. */
function struckBy(fault: LayeredFault, parts: readonly MovingPart[]): readonly ShownLink[] {
  if (!isOneOfMany(fault.id)) return [];
  const single = parts.flatMap((part) => {
    const way = fault.ways.find(({ effects }) => effects.some(({ links }) => leadsTo(links, part.key)));
    return way ? [{ part, links: marginals({ ...fault, effects: way.effects, ways: [] }) }] : [];
  });
  return SYMPTOM_IDS.flatMap((symptom): readonly ShownLink[] => {
    const able = single.filter(({ part }) => canShow(part.mechanism, symptom));
    const [first] = able;
    if (!first) return [];
    const link =
      able.reduce((sum, { part, links }) => sum + (links.get(findingAt(part, symptom).id) ?? 0), 0) / able.length;
    return [
      {
        key: learnedSymptom(STRUCK, symptom),
        id: findingAt(first.part, symptom).id,
        link: Math.max(link, UNTHOUGHT_OF),
      },
    ];
  });
}

import type { Probability } from "../../domain/units.ts";
import { FIXED_TEMPER, type Temper } from "./claims.ts";
import { isOneOfMany } from "./knowledge/faults.ts";
import type { LayeredFault, NetworkEffect } from "./layers.ts";
import { type FixtureNetwork, isStranger } from "./network.ts";
import { inspectionNode, type LearnedId, leadsTo, learnedThing, type NodeId, STRUCK } from "./node.ts";
import { findingAt, type MovingPart } from "./places.ts";

/** A number of the network with the shop's own history in it. */
export interface Figure {
  readonly value: Probability;
  readonly yes: number;
  /** Cases that had something to say. 0: still the starter value. */
  readonly of: number;
}

/** The shop's own numbers; whatever is not in it is still the starter value. */
export interface Learned {
  readonly priors: Readonly<Record<string, Figure>>;
  /** Links by the key of a finding, then by fault. Keys hold for every kind of fixture: see `LearnedId`. */
  readonly links: Readonly<Record<LearnedId, Readonly<Record<string, Figure>>>>;
  /** Fixtures that came back with nothing wrong, of all whose outcome is known. */
  readonly clean: Figure;
  /** How far the odds of the model were to be trusted here. */
  readonly temper: Temper;
}

export const NOTHING_LEARNED: Learned = {
  priors: {},
  links: {},
  clean: { value: 0, yes: 0, of: 0 },
  temper: FIXED_TEMPER,
};

/** The network with the shop's own numbers in place of the starter values, where there are any. */
export function withHistory(network: FixtureNetwork, learned: Learned): FixtureNetwork {
  if (learned.clean.of === 0 && Object.keys(learned.links).length === 0) return network;
  const known = made.get(learned)?.get(network);
  if (known) return known;
  const byFault = linksByFault(learned);
  const faults = network.faults.map((fault) =>
    (byFault.get(fault.id) ?? []).reduce((changed, [key, value]) => withLink(changed, network.parts, key, value), {
      ...fault,
      prior: learned.priors[fault.id]?.value ?? fault.prior,
    }),
  );
  const changed = { ...network, faults: asOftenClean(faults, learned.clean) };
  made.set(learned, new Map(made.get(learned)).set(network, changed));
  return changed;
}

/** What was made of a history is kept as long as the history. */
const made = new WeakMap<Learned, Map<FixtureNetwork, FixtureNetwork>>();

function linksByFault({ links }: Learned): ReadonlyMap<string, readonly (readonly [LearnedId, Probability])[]> {
  const rows = new Map<string, (readonly [LearnedId, Probability])[]>();
  for (const [key, row] of Object.entries(links))
    for (const [fault, { value }] of Object.entries(row)) rows.set(fault, [...(rows.get(fault) ?? []), [key, value]]);
  return rows;
}

/** Wherever the fault can act there, it shows this symptom as often as was learned. */
function withLink(fault: LayeredFault, parts: readonly MovingPart[], key: LearnedId, value: Probability): LayeredFault {
  const thing = learnedThing(key);
  if (!thing) return fault;
  if (thing.kind === "inspection")
    return { ...fault, effects: showingAs(fault.effects, inspectionNode(thing.inspection), value) };
  const { where, symptom } = thing;
  if (where === "fixture")
    return { ...fault, effects: showingAs(fault.effects, findingAt("fixture", symptom).id, value) };
  const struck = where === STRUCK && isOneOfMany(fault.id);
  const at = parts.filter(({ mechanism }) => struck || mechanism === where);
  const learnedIn = (effects: readonly NetworkEffect[]) =>
    at
      .filter(({ key: place }) => effects.some(({ links }) => leadsTo(links, place)))
      .reduce((changed, part) => showingAs(changed, findingAt(part, symptom).id, value), effects);
  return {
    ...fault,
    effects: struck ? fault.effects : learnedIn(fault.effects),
    ways: fault.ways.map(({ share, effects }) => ({ share, effects: learnedIn(effects) })),
  };
}

/** The same effects, which together show a finding with the chance `value`: too seldom, so one more; too often, so all less. */
function showingAs(effects: readonly NetworkEffect[], id: NodeId, value: Probability): readonly NetworkEffect[] {
  const quiet = effects.reduce((left, { probability, links }) => left * (1 - probability * (links.get(id) ?? 0)), 1);
  const now = 1 - quiet;
  if (value >= now)
    return [...effects, { probability: 1, links: new Map([[id, 1 - (1 - value) / Math.max(quiet, LEAST)]]) }];
  return effects.map(({ probability, links }) => {
    const link = links.get(id);
    return link === undefined
      ? { probability, links }
      : { probability, links: new Map(links).set(id, (link * value) / now) };
  });
}

const LEAST = 1e-9;
/** A starter value counts as much as this many fixtures. Judgement. */
export const PRIOR_WEIGHT = 40;

/**
 * However many causes were found, a fixture is as often clean as this shop's own record says: otherwise all faults together
 * are believed less often, by the same factor.
 */
function asOftenClean(faults: readonly LayeredFault[], { yes, of }: Figure): readonly LayeredFault[] {
  const cleanAt = (factor: number) =>
    faults.reduce((left, { id, prior }) => left * (1 - (isStranger(id) ? 0 : prior * factor)), 1);
  const record = of === 0 ? 0 : yes / of;
  if (cleanAt(1) >= record) return faults;
  let [low, high] = [0, 1];
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (cleanAt(middle) >= record) low = middle;
    else high = middle;
  }
  return faults.map((fault) => (isStranger(fault.id) ? fault : { ...fault, prior: fault.prior * low }));
}

const HALVINGS = 40;

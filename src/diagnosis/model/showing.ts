import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { Probability } from "../../domain/units.ts";
import { wasUnder } from "./circumstances.ts";
import type { Weighed } from "./evidence.ts";
import { chancesOf, exposure, moves, silenceOf } from "./exposure.ts";
import type { Condition } from "./knowledge/entry.ts";
import { type LayeredFault, marginals, type NetworkEffect } from "./layers.ts";
import { networkFor } from "./network.ts";
import type { NodeId } from "./node.ts";
import { type Observation, withFunctions } from "./observation.ts";
import { belongsToMover, type Fitted, findingsOf, type Place } from "./places.ts";
import type { Probe } from "./probe.ts";
import { type Learned, withHistory } from "./shop.ts";
import { conditionOf } from "./signs.ts";

/** A symptom that a probe may bring out, and how likely under each fault, given all that was seen and not seen so far. */
export interface Showing {
  readonly by: ReadonlyMap<string, Probability>;
  /** How likely it is reported although nothing is wrong. */
  readonly imagined: Probability;
}

/**
 * Prepares the question once for a fixture and its run, about these faults; then asks it of any probe. Undefined for a movement that has shown
 * something already under the same circumstances: once more it would tell nothing new.
 */
export function showingsAfter(
  fitted: readonly Fitted[],
  observations: readonly Observation[],
  { evidence }: Weighed,
  learned: Learned,
  among: ReadonlySet<string>,
): (probe: Probe) => readonly Showing[] | undefined {
  const run = withFunctions(fitted, observations);
  const present = new Set(evidence.present);
  const { faults, parts, symptoms } = withHistory(networkFor(fitted), learned);
  const leaks = new Map(symptoms.map(({ id, leak }) => [id, leak]));
  const links = faults
    .filter(({ id }) => among.has(id))
    .map((fault) => ({ id: fault.id, shows: marginals(asSeen(fault, present)) }));
  const open = findingsOf(parts).flatMap(({ id, place, what }): readonly Open[] => {
    if (present.has(id) || (place === "fixture" && belongsToMover(what))) return [];
    const by = links.flatMap(({ id: fault, shows }) => {
      const link = shows.get(id) ?? 0;
      return link > 0 ? [[fault, link] as const] : [];
    });
    return [
      { id, place, symptom: what, by, leak: leaks.get(id) ?? 0, silentSoFar: silenceOf(chancesOf(run, place, what)) },
    ];
  });
  const last = run.at(-1);
  return (probe) => {
    const watched = watchedNow(probe, last);
    const isDone = (one: Observation) =>
      one.symptoms.length > 0 &&
      one.result === "fail" &&
      (probe.under === "as usual" || wasUnder(probe.under, one)) &&
      watched.some((step) => sameMovement(one, step));
    if (run.some(isDone)) return undefined;
    return open.flatMap((one) => showingOf(one, watched));
  };
}

/** The effects that explain what was seen are there, and the ways that explain none of it are not. */
function asSeen(fault: LayeredFault, present: ReadonlySet<NodeId>): LayeredFault {
  const explains = ({ links }: NetworkEffect) => [...links].some(([id, link]) => link >= TELLING && present.has(id));
  const seen = (effects: readonly NetworkEffect[]) =>
    effects.map((effect) =>
      explains(effect) ? { ...effect, probability: Math.max(effect.probability, SEEN) } : effect,
    );
  const able = fault.ways.filter(({ effects }) => effects.some(explains));
  const ways = able.length > 0 ? able : fault.ways;
  const whole = ways.reduce((sum, { share }) => sum + share, 0);
  return {
    ...fault,
    effects: seen(fault.effects),
    ways: ways.map(({ share, effects }) => ({ share: share / whole, effects: seen(effects) })),
  };
}

/** A link this strong explains what was seen; then its effect is nearly sure. Judgement. */
const TELLING: Probability = 0.1;
const SEEN: Probability = 0.9;

/** A finding that was not reported yet. */
interface Open {
  readonly id: string;
  readonly place: Place;
  readonly symptom: SymptomId;
  readonly by: readonly (readonly [string, Probability])[];
  readonly leak: Probability;
  /** How much its staying away says by now. */
  readonly silentSoFar: (when: Condition) => Probability;
}

const sameMovement = (a: Observation, b: Observation): boolean =>
  a.routine === b.routine && a.functions.some((one) => b.functions.some((other) => one.function === other.function));

/** The steps as they would be watched now: as warm as the last one and as it has become since, in its attitude, with somebody attending. */
function watchedNow({ steps }: Probe, last: Observation | undefined): readonly Observation[] {
  let litMinutes = last?.litMinutes ?? 0;
  return steps.map(({ routine, fitted, seconds, circumstances }) => {
    litMinutes += routine === "soak" ? seconds / 60 : 0;
    return {
      routine,
      functions: fitted,
      result: "pass",
      symptoms: [],
      watched: "attended",
      litMinutes,
      attitude: last?.attitude ?? "standing",
      ...(circumstances ? { circumstances } : {}),
    };
  });
}

/** What had its chances and did not show is the less likely to show now. */
function showingOf(
  { id: finding, place, symptom, by, leak, silentSoFar }: Open,
  watched: readonly Observation[],
): readonly Showing[] {
  const chances = watched
    .filter((one) => place === "fixture" || moves(one, place))
    .map((observation) => ({ observation, caught: exposure(observation, symptom) }))
    .filter(({ caught }) => caught > 0);
  if (chances.length === 0) return [];
  const silentNow = silenceOf(chances);
  const now = by.map(([id, link]): [string, Probability] => {
    const when = conditionOf(id, finding);
    const before = silentSoFar(when);
    return [id, (link * (1 - before) * silentNow(when)) / (1 - link * before)];
  });
  const caught = 1 - chances.reduce((left, one) => left * (1 - one.caught), 1);
  return [{ by: new Map(now), imagined: leak * caught }];
}

import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { Probability } from "../../domain/units.ts";
import type { Weighed } from "./evidence.ts";
import { copyOf, exposure, expression } from "./exposure.ts";
import type { FaultId } from "./knowledge/faults.ts";
import { type Fitted, mechanismsOf, networkFor } from "./network.ts";
import type { NetworkSymptom } from "./network-shape.ts";
import { type Observation, withFunctions } from "./observation.ts";
import { conditionOf } from "./pattern.ts";
import { belongsToMover, findingAt, findingsOf, type Place } from "./places.ts";
import type { Probe } from "./probes.ts";
import type { Learned } from "./shop.ts";
import { type Chance, chancesOf, silenceOf } from "./silence.ts";

/** A symptom that a probe may bring out, and how likely under each fault, given all that was seen and not seen so far. */
export interface Showing {
  readonly by: ReadonlyMap<FaultId, Probability>;
  /** How likely it is reported although nothing is wrong. */
  readonly imagined: Probability;
}

/** Who imagined it once may do so again. Starter value, judgement. */
const IMAGINED_AGAIN: Probability = 0.05;

/** Prepares the question once for a fixture and its run; then asks it of any probe. */
export function showingsAfter(
  fitted: readonly Fitted[],
  observations: readonly Observation[],
  { network, evidence }: Weighed,
  learned: Learned,
): (probe: Probe) => readonly Showing[] {
  const run = withFunctions(fitted, observations);
  const present = new Set(evidence.present);
  const nodes = new Map(networkFor(fitted, learned).symptoms.map((node) => [node.id, node]));
  const weighed = new Map(network.symptoms.map((node) => [node.id, node]));
  const open = findingsOf(mechanismsOf(fitted)).flatMap(({ place, symptom }): readonly Open[] => {
    const id = findingAt(place, symptom);
    const node = present.has(id) ? weighed.get(id) : nodes.get(id);
    if (!node || (place === "fixture" && belongsToMover(symptom))) return [];
    return [{ place, symptom, node, seen: present.has(id), copies: chancesOf(fitted, run, place, symptom) }];
  });
  const last = run.at(-1);
  return (probe) => {
    const watched = watchedNow(probe, last);
    const tried = run.filter((one) => sameMovement(one, watched)).length;
    return open.flatMap((one) => {
      const more = withOneMore(one, fitted, watched);
      if (!more) return [];
      if (!one.seen) return [firstShowing(one, more)];
      // Once more to make sure is worth it; after that the same movement tells nothing new of what it showed.
      return tried <= 1 ? [nextShowing(one, watched)] : [];
    });
  };
}

interface Open {
  readonly place: Place;
  readonly symptom: SymptomId;
  readonly node: NetworkSymptom;
  /** Reported already. */
  readonly seen: boolean;
  readonly copies: readonly (readonly Chance[])[];
}

const sameMovement = (a: Observation, b: Observation): boolean =>
  a.routine === b.routine && a.functions.some((one) => b.functions.some((other) => one.function === other.function));

/** As warm and in the attitude that it was last, with somebody attending. */
const watchedNow = ({ routine, fitted }: Probe, last: Observation | undefined): Observation => ({
  routine,
  functions: fitted,
  result: "pass",
  symptoms: [],
  watched: "attended",
  litMinutes: (last?.litMinutes ?? 0) + (routine === "soak" ? 20 : 0),
  attitude: last?.attitude ?? "standing",
});

/** The chances after one more watched step, or nothing when that step cannot show this symptom. */
function withOneMore({ place, symptom, copies }: Open, fitted: readonly Fitted[], watched: Observation) {
  const caught = exposure(watched, symptom);
  if (caught === 0) return undefined;
  const chance: Chance = { observation: watched, caught };
  if (place === "fixture") return copies.map((chances) => [...chances, chance]);
  const moved = new Set(watched.functions.filter(({ mechanism }) => mechanism === place).map(copyOf));
  if (moved.size === 0) return undefined;
  const names = [...new Set(fitted.filter(({ mechanism }) => mechanism === place).map(copyOf))];
  return copies.map((chances, i) => (moved.has(names[i] ?? "") ? [...chances, chance] : chances));
}

/** What had its chances and did not show is the less likely to show now. */
function firstShowing({ node, copies }: Open, more: readonly (readonly Chance[])[]): Showing {
  const before = silenceOf(copies);
  const after = silenceOf(more);
  const by = Object.entries(node.links).map(([id, link]): [FaultId, Probability] => {
    const when = conditionOf(id);
    return [id as FaultId, (link * (after(when) - before(when))) / (1 - link * before(when))];
  });
  return { by: new Map(by), imagined: node.leak };
}

/** What has shown once shows again where it can. */
function nextShowing({ node, symptom }: Open, watched: Observation): Showing {
  const caught = exposure(watched, symptom);
  const by = Object.keys(node.links).map((id): [FaultId, Probability] => [
    id as FaultId,
    caught * expression(conditionOf(id), watched),
  ]);
  return { by: new Map(by), imagined: IMAGINED_AGAIN };
}

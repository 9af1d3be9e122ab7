import type { Probability } from "../../domain/units.ts";
import type { Network, NetworkSymptom } from "./network-shape.ts";
import type { Observation } from "./observation.ts";
import { doubt } from "./pattern.ts";
import { isMoving, type Place } from "./places.ts";

const LEAK: Probability = 0.02;
const SURE_AT_MOST: Probability = 0.9;

/** Steps that failed, or left somebody unsure, without a word why: something is wrong with what moved, no more is known. */
export function unnamedTroubles(
  network: Network,
  observations: readonly Observation[],
  named: ReadonlySet<Place>,
): readonly NetworkSymptom[] {
  const silent = observations.filter(({ symptoms }) => symptoms.length === 0);
  const failed = placesOf(silent.filter(({ result }) => result === "fail"));
  const doubtful = placesOf(silent.filter(({ result }) => result === "unsure"));
  return [...new Set([...failed, ...doubtful])]
    .filter((place) => !named.has(place))
    .map((place) => (failed.has(place) ? troubleAt(network, place) : doubt(troubleAt(network, place))));
}

const placesOf = (observations: readonly Observation[]): ReadonlySet<Place> =>
  new Set(
    observations.flatMap(({ functions }): readonly Place[] => {
      const moved = [...new Set(functions.map(({ mechanism }) => mechanism))].filter(isMoving);
      return moved.length === 1 ? moved : ["fixture"];
    }),
  );

/** Any fault that can show anything there can be behind it. */
function troubleAt(network: Network, place: Place): NetworkSymptom {
  const silent = new Map<string, number>();
  for (const { id, links } of network.symptoms)
    if (id.startsWith(`${place}/`))
      for (const [fault, link] of Object.entries(links)) silent.set(fault, (silent.get(fault) ?? 1) * (1 - link));
  const links = [...silent].map(([fault, left]) => [fault, Math.min(SURE_AT_MOST, 1 - left)]);
  return { id: `${place}/unnamed`, leak: LEAK, links: Object.fromEntries(links) };
}

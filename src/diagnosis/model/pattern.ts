import type { Probability } from "../../domain/units.ts";
import { copyOf, exposure, expression } from "./exposure.ts";
import type { Condition } from "./knowledge/entry.ts";
import { type FaultId, knownFault } from "./knowledge/faults.ts";
import type { NetworkSymptom } from "./network-shape.ts";
import type { Observation } from "./observation.ts";
import type { Reported } from "./reports.ts";

/** Never less than this: a symptom reported once is not talked away by what passed elsewhere. */
const FLOOR: Probability = 0.4;
/** Reported again, it is less likely to have been imagined; by the same eyes, not by much. Starter value, judgement. */
const AGAIN: Probability = 0.4;
/** Who is unsure is right about half as often, and unsure of something quite often. Starter values, judgement. */
const UNSURE = { link: 0.5, leak: 0.2 } as const;

/** A reported symptom with its links weighed by when it came and when it did not: cold, warm, shaken, each time or seldom. */
export function weighReport(
  symptom: NetworkSymptom,
  { sources, symptom: id }: Reported,
  observations: readonly Observation[],
): NetworkSymptom {
  const seen = new Set(sources.map(({ observation }) => observation));
  const likes = new Set([...seen].flatMap(movements));
  const missed = observations
    .filter((one) => !seen.has(one) && movements(one).some((movement) => likes.has(movement)))
    .map((observation) => ({ observation, caught: exposure(observation, id) }));
  const fits = (when: Condition): Probability => {
    const came = [...seen].reduce((product, one) => product * expression(when, one), 1);
    const stayedAway = missed.reduce((left, one) => left * (1 - one.caught * expression(when, one.observation)), 1);
    return Math.max(FLOOR, came * stayedAway);
  };
  const weighed = Object.entries(symptom.links).map(([fault, link]) => ({
    fault,
    link,
    fit: fits(conditionOf(fault)),
  }));
  const best = Math.max(FLOOR, ...weighed.map(({ fit }) => fit));
  const links = Object.fromEntries(weighed.map(({ fault, link, fit }) => [fault, (link * fit) / best]));
  const leak = Math.min(0.5, (symptom.leak / best) * AGAIN ** (seen.size - 1));
  return [...seen].every(({ result }) => result === "unsure")
    ? doubt({ ...symptom, leak, links })
    : { ...symptom, leak, links };
}

/** Only the same movement of the same part is a second try at the same thing. */
const movements = ({ routine, functions }: Observation): readonly string[] =>
  functions.map((fitted) => `${routine} ${copyOf(fitted)}`);

/** The same finding from somebody who is not sure of it. */
export const doubt = ({ id, leak, links }: NetworkSymptom): NetworkSymptom => ({
  id,
  leak: Math.max(leak, UNSURE.leak),
  links: Object.fromEntries(Object.entries(links).map(([fault, link]) => [fault, link * UNSURE.link])),
});

export const conditionOf = (fault: string): Condition => knownFault(fault as FaultId).when;

import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { Probability } from "../../domain/units.ts";
import { copyOf, exposure, expression } from "./exposure.ts";
import type { Condition } from "./knowledge/entry.ts";
import type { Fitted } from "./network.ts";
import type { Observation } from "./observation.ts";
import type { Place } from "./places.ts";

/** One chance that a symptom had to show itself and be caught. */
export interface Chance {
  readonly observation: Observation;
  readonly caught: Probability;
}

/**
 * How much silence says against a fault of this condition: 0 when it had no chance to show, near 1 when it had many.
 * Parallel copies count apart, so that passing cyan alone clears a third of the flags.
 */
function silence(copies: readonly (readonly Chance[])[], when: Condition): Probability {
  const missed = copies.map((chances) =>
    chances.reduce((left, { observation, caught }) => left * (1 - caught * expression(when, observation)), 1),
  );
  return missed.reduce((sum, left) => sum + (1 - left), 0) / Math.max(1, copies.length);
}

/** The same, reckoned once for each condition. */
export function silenceOf(copies: readonly (readonly Chance[])[]): (when: Condition) => Probability {
  const known = new Map<Condition, Probability>();
  return (when) => {
    const value = known.get(when) ?? silence(copies, when);
    known.set(when, value);
    return value;
  };
}

/** The chances of each copy of a mechanism, or of the fixture as a whole. */
export function chancesOf(
  fitted: readonly Fitted[],
  observations: readonly Observation[],
  place: Place,
  symptom: SymptomId,
): readonly (readonly Chance[])[] {
  if (place === "fixture") return [chancesIn(observations, symptom)];
  const copies = new Set(fitted.filter(({ mechanism }) => mechanism === place).map(copyOf));
  return [...copies].map((copy) =>
    chancesIn(
      observations.filter(({ functions }) => functions.some((one) => one.mechanism === place && copyOf(one) === copy)),
      symptom,
    ),
  );
}

const chancesIn = (observations: readonly Observation[], symptom: SymptomId): readonly Chance[] =>
  observations
    .map((observation) => ({ observation, caught: exposure(observation, symptom) }))
    .filter(({ caught }) => caught > 0);

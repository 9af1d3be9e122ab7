import type { Seconds } from "../../domain/units.ts";
import type { Assessment } from "./assessment.ts";
import { crossingsOf } from "./watch.ts";

/** What one settled place tells of delays: who pressed, at which kind of fixture, how fast it moved. */
export interface DelaySample {
  readonly person: string;
  readonly profile: string;
  /** Degrees or percent a second. */
  readonly speed: number;
  /** The time from the commanded crossing to the press. */
  readonly delay: Seconds;
  readonly presses: number;
  /** How often the place was crossed: what was not pressed for was missed. */
  readonly crossings: number;
  /** What the profile says. */
  readonly lag: Seconds;
}

/**
 * How late somebody presses at a kind of fixture, by one settled place. Undefined unless the presses are settled as tied to
 * a place both ways: only there a delay can be told from the place.
 */
export const delaySample = (person: string, profile: string, assessment: Assessment): DelaySample | undefined => {
  const { settled, place, spots, watches } = assessment;
  if (settled?.pattern.kind !== "position" || !place) return undefined;
  return {
    person,
    profile,
    speed: Math.round(place.speed),
    delay: place.delay,
    presses: spots.length,
    crossings: watches.reduce((sum, watch) => sum + crossingsOf(watch, place.at).length, 0),
    lag: watches[0]?.lag ?? 0,
  };
};

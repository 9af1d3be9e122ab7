import { type Share, shareOf } from "../../domain/statistics/sample.ts";
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

/** What is known of a person, and from how much. */
export interface PersonConstants {
  readonly person: string;
  readonly reaction: Seconds;
  readonly presses: number;
  readonly missed: Share;
  /** Only then it is used instead of the usual values. */
  readonly enough: boolean;
}

/** How late a kind of fixture follows at a speed, and from how much. */
interface LagConstant {
  readonly profile: string;
  readonly speed: number;
  readonly lag: Seconds;
  readonly presses: number;
  readonly people: number;
  /** Told from reaction only by several people; until then the profile's own value is used. */
  readonly enough: boolean;
}

/** All that presses have told of people and fixtures so far. */
export interface Constants {
  readonly people: readonly PersonConstants[];
  readonly lags: readonly LagConstant[];
}

export const NOTHING_MEASURED: Constants = { people: [], lags: [] };

const ENOUGH_PRESSES = 30;
const ENOUGH_PEOPLE = 2;
/** How many presses the profile's lag counts for. Judgement. */
const STATED_WEIGHT = 20;
const ROUNDS = 200;

/**
 * Parts delays into what the fixture and what the person takes: they add up, and only their sum is ever seen. The profile's
 * stated lag is the anchor; it moves where several people are late or early at the same fixture.
 */
export const constantsFrom = (samples: readonly DelaySample[]): Constants => {
  const [people, fixtures] = [groupBy(samples, ({ person }) => person), groupBy(samples, fixtureOf)];
  const lags = new Map([...fixtures].map(([fixture, ones]) => [fixture, ones[0]?.lag ?? 0]));
  const reactions = new Map<string, Seconds>();
  for (let round = 0; round < ROUNDS; round++) {
    for (const [person, ones] of people)
      reactions.set(
        person,
        weighed(ones, (one) => one.delay - (lags.get(fixtureOf(one)) ?? one.lag)),
      );
    for (const [fixture, ones] of fixtures) {
      if (countOf(ones, ({ person }) => person) < ENOUGH_PEOPLE) continue;
      const stated = { weight: STATED_WEIGHT, value: ones[0]?.lag ?? 0 };
      lags.set(
        fixture,
        weighed(ones, (one) => one.delay - (reactions.get(one.person) ?? 0), stated),
      );
    }
  }
  return {
    people: [...people].map(([person, ones]) => personConstants(person, ones, reactions.get(person) ?? 0)),
    lags: [...fixtures].map(([fixture, ones]) => lagConstant(ones, lags.get(fixture) ?? 0)),
  };
};

const fixtureOf = ({ profile, speed }: DelaySample): string => `${profile} ${speed}`;

const personConstants = (person: string, ones: readonly DelaySample[], reaction: Seconds): PersonConstants => {
  const presses = sum(ones, (one) => one.presses);
  const crossings = sum(ones, (one) => one.crossings);
  return {
    person,
    reaction,
    presses,
    missed: shareOf(crossings - presses, crossings),
    enough: presses >= ENOUGH_PRESSES,
  };
};

const lagConstant = (ones: readonly DelaySample[], lag: Seconds): LagConstant => {
  const [presses, people] = [sum(ones, (one) => one.presses), countOf(ones, ({ person }) => person)];
  const enough = presses >= ENOUGH_PRESSES && people >= ENOUGH_PEOPLE;
  return { profile: ones[0]?.profile ?? "", speed: ones[0]?.speed ?? 0, lag, presses, people, enough };
};

const weighed = (
  ones: readonly DelaySample[],
  value: (one: DelaySample) => Seconds,
  more: { readonly weight: number; readonly value: Seconds } = { weight: 0, value: 0 },
): Seconds =>
  (sum(ones, (one) => one.presses * value(one)) + more.weight * more.value) /
  (sum(ones, (one) => one.presses) + more.weight);

const sum = (ones: readonly DelaySample[], value: (one: DelaySample) => number): number =>
  ones.reduce((total, one) => total + value(one), 0);
const countOf = (ones: readonly DelaySample[], key: (one: DelaySample) => string): number =>
  new Set(ones.map(key)).size;

const groupBy = (samples: readonly DelaySample[], key: (sample: DelaySample) => string) => {
  const groups = new Map<string, DelaySample[]>();
  for (const sample of samples) groups.set(key(sample), [...(groups.get(key(sample)) ?? []), sample]);
  return groups;
};

import { type Profile, type Travel, travelOf } from "../../data/profile/profile.ts";
import { studentQuantile } from "../../domain/statistics/distributions.ts";
import { mean, variance } from "../../domain/statistics/sample.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import { type Seconds, secondsOf } from "../../domain/units.ts";
import { travelTime } from "../../plan/score.ts";
import type { CompiledStep } from "../../plan/timeline.ts";
import type { TravelWay } from "./pass.ts";
import { wayWords } from "./pattern.ts";
import { type Press, pressTimes } from "./watch.ts";

/** How quick a person is, and how surely that is known (standard error). */
export interface Quickness {
  readonly mean: Seconds;
  readonly error: Seconds;
}

/** How quickly somebody presses whose reaction is not known yet: 0.3 to 0.6 s (judgement). */
export const USUAL_QUICKNESS: Quickness = { mean: 0.4, error: 0.075 };

/** How long the fixture took one way, from presses on arrival. */
export interface TimedWay {
  readonly way: TravelWay;
  readonly from: number;
  readonly to: number;
  /** The time from the command to the arrival, the person's reaction taken off. */
  readonly took: Seconds;
  /** 95 %, with what is not known of the person; undefined with a single press. */
  readonly interval: { readonly low: Seconds; readonly high: Seconds } | undefined;
  readonly presses: number;
  /** The time that the profile promises: the movement as commanded or as fast as it can, and its lag. */
  readonly expected: Seconds;
  /** Slower than the profile by more than the doubt and a tenth. */
  readonly slow: boolean;
}

/** More than a tenth over its time is what people call slow. Starter value, judgement. */
const SLOWER = 1.1;

/**
 * Which presses are for a movement: those in its second half and until the half of the next, as long as its time is about
 * known; or every press until the next one begins, where it is not.
 */
type Counts = "late-presses" | "every-press";

/** Travel times of one function in a step in which the key was pressed when it stood still: one entry for each movement that was timed. */
export const stopwatch = (
  profile: Profile,
  step: CompiledStep,
  id: FunctionId,
  presses: readonly Press[],
  person: Quickness = USUAL_QUICKNESS,
  counts: Counts = "late-presses",
): readonly TimedWay[] => {
  const travel = travelOf(profile, id);
  if (!travel) return [];
  const movements = movementsOf(profile, step, id, travel);
  const times = pressTimes(presses);
  const arrivals = movements.flatMap((movement, i) => {
    const press = times.find((time) => time >= earliest(movement, counts) && time < earliest(movements[i + 1], counts));
    return press === undefined ? [] : [{ movement, took: press - movement.begin - person.mean }];
  });
  return alike(arrivals.map(({ movement }) => movement)).map((movement) =>
    timed(
      movement,
      arrivals.filter((arrival) => same(arrival.movement, movement)).map(({ took }) => took),
      person,
    ),
  );
};

interface TimedMovement {
  readonly way: TravelWay;
  readonly from: number;
  readonly to: number;
  readonly begin: Seconds;
  readonly expected: Seconds;
}

const movementsOf = (profile: Profile, step: CompiledStep, id: FunctionId, travel: Travel): readonly TimedMovement[] =>
  step.moves
    .filter((move) => move.function === id && move.start >= step.leadIn)
    .map(({ from, to, start, frames }) => ({
      way: to > from ? "up" : "down",
      from,
      to,
      begin: secondsOf(start),
      expected: Math.max(secondsOf(frames), travelTime(profile, id, from, to)) + travel.lag,
    }));

/** Before this a press is still for the movement before it. */
const earliest = (movement: TimedMovement | undefined, counts: Counts): Seconds => {
  if (!movement) return Number.POSITIVE_INFINITY;
  return counts === "every-press" ? movement.begin + AT_LEAST_S : movement.begin + movement.expected / 2;
};
/** Nobody reacts within this to anything that this movement did (judgement). */
const AT_LEAST_S: Seconds = 0.15;

const same = (a: TimedMovement, b: TimedMovement): boolean => a.from === b.from && a.to === b.to;
const alike = (movements: readonly TimedMovement[]): readonly TimedMovement[] =>
  movements.filter((movement, i) => !movements.slice(0, i).some((earlier) => same(earlier, movement)));

const timed = ({ way, from, to, expected }: TimedMovement, times: readonly Seconds[], person: Quickness): TimedWay => {
  const took = mean(times);
  const interval = times.length < 2 ? undefined : around(took, times, person);
  const slow = interval !== undefined && interval.low > SLOWER * expected;
  return { way, from, to, took, interval, presses: times.length, expected, slow };
};

/** The scatter of the presses and the doubt about the person, as independent errors. */
const around = (took: Seconds, times: readonly Seconds[], { error }: Quickness) => {
  const scatter = studentQuantile(0.975, times.length - 1) * Math.sqrt(variance(times) / times.length);
  const reach = Math.hypot(scatter, studentQuantile(0.975, 1e4) * error);
  return { low: took - reach, high: took + reach };
};

/**
 * A time that was taken, in words: "on the way up (DMX rising) 4.1 s, plus or minus 0.2 s (6 presses);
 * should be 2.9 s: slower than it should be".
 */
export const timedWords = ({ way, took, interval, presses, expected, slow }: TimedWay): string => {
  const count = `${presses} ${presses === 1 ? "press" : "presses"}`;
  const doubt = interval
    ? `, plus or minus ${((interval.high - interval.low) / 2).toFixed(1)} s (${count})`
    : ` (${count}: too few to say how exactly)`;
  const verdict = slow ? ": slower than it should be" : "";
  return `on the way ${wayWords(way)} ${took.toFixed(1)} s${doubt}; should be ${expected.toFixed(1)} s${verdict}`;
};

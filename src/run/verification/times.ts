import type { Profile, Raw, Wheel } from "../../data/profile/profile.ts";
import { type Quickness, stopwatch, USUAL_QUICKNESS } from "../../diagnosis/places/stopwatch.ts";
import { type Press, pressTimes } from "../../diagnosis/places/watch.ts";
import { studentQuantile } from "../../domain/statistics/distributions.ts";
import { mean, variance } from "../../domain/statistics/sample.ts";
import { type FunctionId, functionWords } from "../../domain/trade/functions.ts";
import { type Seconds, secondsOf } from "../../domain/units.ts";
import type { CompiledStep } from "../../plan/timeline.ts";
import type { RunView } from "../events/view.ts";

/** How long a function took from end to end, from presses each time it stood still. */
export interface Measured {
  readonly function: FunctionId;
  /** Without the lag, as a profile has it. */
  readonly travel: Seconds;
  /** Half of the 95 % interval, the doubt about the person with it; undefined with too few presses. */
  readonly spread: Seconds | undefined;
  readonly presses: number;
  /** What the profile said before. */
  readonly told: Seconds;
  /** Which value of the profile it is: from end to end, or from one position of a wheel to the next. */
  readonly key: "full_travel_s" | "step_s";
}

/** The travel time of every function whose standing still was pressed for, both ways taken together. */
export const measuredIn = (
  profile: Profile,
  steps: readonly CompiledStep[],
  view: RunView,
  person: Quickness = USUAL_QUICKNESS,
): readonly Measured[] =>
  steps.flatMap((step, index) => {
    const [id] = step.functions;
    const spec = id === undefined ? undefined : profile.functions.get(id);
    const presses = view.steps[index]?.presses ?? [];
    if (id !== undefined && spec?.kind === "wheel") return wheelTime(id, spec, step, presses, person);
    if (id === undefined || spec?.kind !== "travel") return [];
    const timed = stopwatch(profile, step, id, presses, person, "every-press");
    if (timed.length === 0) return [];
    const spreads = timed.flatMap(({ interval }) => (interval ? [(interval.high - interval.low) / 2] : []));
    return [
      {
        function: id,
        travel: rounded(Math.max(SHORTEST, mean(timed.map(({ took }) => took)) - spec.lag)),
        spread: spreads.length === 0 ? undefined : rounded(Math.max(...spreads)),
        presses: timed.reduce((sum, { presses }) => sum + presses, 0),
        told: spec.fullTravel,
        key: "full_travel_s",
      },
    ];
  });

/**
 * A wheel from one position to the next: the time of every hop that was pressed for, less the person's reaction, shared by the
 * positions that it passed. Single steps are too quick for a hand; wheels take the shorter way round.
 */
const wheelTime = (
  id: FunctionId,
  spec: Wheel,
  step: CompiledStep,
  presses: readonly Press[],
  person: Quickness,
): readonly Measured[] => {
  const moves = step.moves.filter((move) => move.function === id && move.start >= step.leadIn);
  const times = pressTimes(presses);
  const timed = moves.flatMap(({ from, to, start }, n) => {
    const [begin, end] = [secondsOf(start), secondsOf(moves[n + 1]?.start ?? Number.POSITIVE_INFINITY)];
    const press = times.find((time) => time >= begin + AT_LEAST_S && time < end);
    const positions = positionsBetween(spec, from, to);
    return press === undefined || positions < FEWEST_POSITIONS
      ? []
      : [{ took: press - begin - person.mean, positions }];
  });
  if (timed.length === 0) return [];
  const each = timed.map(({ took, positions }) => Math.max(0, took) / positions);
  const scatter =
    each.length < 2 ? 0 : studentQuantile(0.975, each.length - 1) * Math.sqrt(variance(each) / each.length);
  const doubt = (1.96 * person.error) / mean(timed.map(({ positions }) => positions));
  return [
    {
      function: id,
      travel: hundredths(Math.max(SHORTEST_STEP, mean(each))),
      spread: each.length < 2 ? undefined : hundredths(Math.hypot(scatter, doubt)),
      presses: timed.length,
      told: spec.step,
      key: "step_s",
    },
  ];
};

const positionsBetween = ({ positions }: Wheel, from: Raw, to: Raw): number => {
  const place = (raw: Raw): number => positions.findIndex(({ at }) => at === raw);
  const direct = Math.abs(place(from) - place(to));
  return Math.min(direct, positions.length - direct);
};

/** Nobody reacts within this to anything that this movement did (judgement). */
const AT_LEAST_S: Seconds = 0.15;
/** A hop of fewer positions is over before a hand has moved (judgement). */
const FEWEST_POSITIONS = 2;
const SHORTEST_STEP: Seconds = 0.02;
const hundredths = (seconds: Seconds): Seconds => Math.round(seconds * 100) / 100;

/** Quicker than this nobody can tell by hand. */
const SHORTEST: Seconds = 0.1;
const rounded = (seconds: Seconds): Seconds => Math.round(seconds * 10) / 10;

/** A measured time in words beside what the profile says. */
export const measuredInWords = (measured: Measured): string =>
  `${functionWords(measured.function)}${measured.key === "step_s" ? ", each position" : ""}: ${spanWords(measured)}; the profile says ${measured.told} s`;

/** A measured time with what stands behind it: "2.6 s, plus or minus 0.2 s, by 4 presses". */
export const spanWords = ({ travel, spread, presses }: Measured): string => {
  const by = `${presses} ${presses === 1 ? "press" : "presses"}`;
  return spread === undefined
    ? `${travel} s, by ${by}: too few to say how exactly`
    : `${travel} s, plus or minus ${spread} s, by ${by}`;
};

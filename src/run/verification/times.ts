import type { Profile } from "../../data/profile/profile.ts";
import { type Quickness, stopwatch, USUAL_QUICKNESS } from "../../diagnosis/places/stopwatch.ts";
import { mean } from "../../domain/statistics/sample.ts";
import { type FunctionId, functionWords } from "../../domain/trade/functions.ts";
import type { Seconds } from "../../domain/units.ts";
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
}

/** Every function whose standing still was pressed for, both ways taken together. */
export const measuredIn = (
  profile: Profile,
  steps: readonly CompiledStep[],
  view: RunView,
  person: Quickness = USUAL_QUICKNESS,
): readonly Measured[] =>
  steps.flatMap((step, index) => {
    const [id] = step.functions;
    const spec = id === undefined ? undefined : profile.functions.get(id);
    if (id === undefined || spec?.kind !== "travel") return [];
    const timed = stopwatch(profile, step, id, view.steps[index]?.presses ?? [], person, "every-press");
    if (timed.length === 0) return [];
    const spreads = timed.flatMap(({ interval }) => (interval ? [(interval.high - interval.low) / 2] : []));
    return [
      {
        function: id,
        travel: rounded(Math.max(SHORTEST, mean(timed.map(({ took }) => took)) - spec.lag)),
        spread: spreads.length === 0 ? undefined : rounded(Math.max(...spreads)),
        presses: timed.reduce((sum, { presses }) => sum + presses, 0),
        told: spec.fullTravel,
      },
    ];
  });

/** Quicker than this nobody can tell by hand. */
const SHORTEST: Seconds = 0.1;
const rounded = (seconds: Seconds): Seconds => Math.round(seconds * 10) / 10;

export const measuredInWords = (measured: Measured): string =>
  `${functionWords(measured.function)}: ${spanWords(measured)}; the profile says ${measured.told} s`;

/** "2.6 s, give or take 0.2 s, by 4 presses": what stands behind the value afterwards. */
export const spanWords = ({ travel, spread, presses }: Measured): string => {
  const by = `${presses} ${presses === 1 ? "press" : "presses"}`;
  return spread === undefined
    ? `${travel} s, by ${by}: too few to say how exactly`
    : `${travel} s, give or take ${spread} s, by ${by}`;
};

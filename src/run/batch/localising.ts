import type { Step, StepOptions } from "../../data/sequence/sequence.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";

/** How many passes each way tell a place from a direction: below four there is no 95 % interval. */
const PASSES = 8;
/** The least time for a full travel, as slow as an eye likes to follow. */
const LEAST_PASS_S = 4;

/**
 * The steps that tell more about all pressed steps; what two of them would have alike is played once. Of
 * functions that were pressed together only those count that were pressed by themselves too, where any was: the
 * others were watched alone and showed nothing.
 */
export const localisedOnce = (steps: readonly Step[]): readonly Step[] => {
  const alone = new Set(steps.flatMap(({ functions }) => (functions.length === 1 ? functions : [])));
  const all = steps.flatMap((step) => localised(narrowed(step, alone)));
  return all.filter((step, index) => all.findIndex((one) => alike(one, step)) === index);
};

const narrowed = (step: Step, alone: ReadonlySet<FunctionId>): Step => {
  const own = step.functions.filter((id) => alone.has(id));
  return own.length === 0 ? step : { ...step, functions: own };
};

const alike = (one: Step, other: Step): boolean =>
  one.routine === other.routine && one.functions.join() === other.functions.join();

/**
 * What a pressed step becomes when the fixture is looked at alone: each function by itself, slowly, several times, so that
 * presses can be placed. Homing and settings concern the fixture as a whole and come once more as they are.
 */
const localised = (step: Step): readonly Step[] => {
  const routine = ALONE[step.routine] ?? step.routine;
  const each: readonly (FunctionId | undefined)[] = step.functions.length > 0 ? step.functions : [undefined];
  return each.map((id) => ({
    id: `alone-${step.id}${id === undefined || step.functions.length === 1 ? "" : `-${idOf(id)}`}`,
    routine,
    functions: id === undefined ? [] : [id],
    options: slowly(routine, step.options),
    line: step.line,
  }));
};

/** The mains is not switched off again for one fixture: a watched reset shows the same homing. Comparing needs the others. */
const ALONE: Readonly<Partial<Record<RoutineId, RoutineId>>> = { "power-up": "home", "side-by-side": "hold" };

const slowly = (routine: RoutineId, options: StepOptions): StepOptions => {
  switch (routine) {
    case "sweep":
    case "short-sweep":
      return { ...withoutSpeed(options), seconds: Math.max(LEAST_PASS_S, 2 * (options.seconds ?? 0)), passes: PASSES };
    case "snap":
    case "in-and-out":
    case "backlash":
      return { ...options, times: 2 * (options.times ?? 2) };
    case "step-through":
      return { ...options, dwell_s: Math.max(1, 2 * (options.dwell_s ?? 0)) };
    default:
      return options;
  }
};

const withoutSpeed = ({ speed: _speed, deg_per_s: _rate, ...options }: StepOptions): StepOptions => options;

const idOf = (id: FunctionId): string => id.toLowerCase().replaceAll("_", "-");

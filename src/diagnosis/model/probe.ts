import type { StepOptions } from "../../data/sequence/sequence.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { MechanismId } from "../../domain/trade/mechanisms.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { Degrees, Seconds } from "../../domain/units.ts";
import type { CircumstanceId } from "./circumstances.ts";
import type { Observation } from "./observation.ts";
import type { Fitted } from "./places.ts";

/** A driven test that could be run next, on one function or, without one, on the fixture as a whole. */
export interface Probe {
  readonly under: CircumstanceId | "as usual";
  readonly routine: RoutineId;
  readonly function: FunctionId | undefined;
  /** What is played for it, in this order. */
  readonly steps: readonly ProbeStep[];
  /** The same movements as usual: what they show would be no gain of the circumstance. */
  readonly usually: readonly ProbeStep[];
  readonly seconds: Seconds;
}

export interface ProbeStep {
  readonly routine: RoutineId;
  /** What is tested in it; everything that the fixture has when it moves as a whole. */
  readonly fitted: readonly Fitted[];
  /** True names of functions for a step of a sequence: none when the fixture moves as a whole. */
  readonly functions: readonly FunctionId[];
  readonly options: StepOptions;
  readonly seconds: Seconds;
  readonly circumstances: Observation["circumstances"];
}

/** What can be driven, and how: of a fixture on a bench. */
export interface Drivable {
  /** Without a function the fixture as a whole. */
  readonly canRun: (routine: RoutineId, id: FunctionId | undefined) => boolean;
  /** Where tilt points at the target, and how far to both sides the beam may be open; undefined where it may hardly lean. */
  readonly leaning: { readonly aimed: Degrees; readonly sides: readonly [Degrees, Degrees] } | undefined;
}

/** About how long a routine is watched. Starter values, judgement; the timeline knows better once it is compiled. */
export const SECONDS = {
  sweep: 10,
  snap: 6,
  backlash: 12,
  hold: 10,
  shake: 8,
  "step-through": 12,
  rotate: 12,
  "in-and-out": 8,
  home: 45,
} as const satisfies Partial<Record<RoutineId, Seconds>>;
type ProbeRoutine = keyof typeof SECONDS;

const AXIS: readonly ProbeRoutine[] = ["sweep", "snap", "backlash", "hold", "shake"];
const LENS: readonly ProbeRoutine[] = ["sweep", "snap", "backlash", "hold"];
const WHEEL: readonly ProbeRoutine[] = ["step-through"];
const ROUTINES: Readonly<Partial<Record<MechanismId, readonly ProbeRoutine[]>>> = {
  "pan-drive": AXIS,
  "tilt-drive": AXIS,
  "colour-wheel": WHEEL,
  "fixed-gobo-wheel": WHEEL,
  "rotating-gobo-wheel": WHEEL,
  "effect-wheel": ["rotate", "step-through"],
  "colour-flags": ["sweep", "snap", "hold"],
  prism: ["in-and-out"],
  frost: ["in-and-out"],
  iris: ["sweep", "snap", "hold"],
  zoom: LENS,
  focus: LENS,
  "framing-blades": ["sweep", "snap"],
  "dimmer-shutter": ["sweep", "in-and-out"],
};

/** The routines that show most of what a function can have. */
export const routinesOf = ({ function: id, mechanism }: Fitted): readonly ProbeRoutine[] =>
  id.endsWith("Pos") ? ["rotate"] : (ROUTINES[mechanism] ?? []);

/** A routine on one function, or without one on the fixture as a whole, with nothing out of the ordinary. */
export const asUsual = (routine: ProbeRoutine, fitted: readonly Fitted[], id: FunctionId | undefined): Probe =>
  probe("as usual", routine, id, [step(routine, fitted, id === undefined ? [] : [id])], []);

/** Each of these by itself, as a check plays it. */
export const eachAsUsual = (fitted: readonly Fitted[]): readonly ProbeStep[] =>
  fitted.flatMap((one) =>
    routinesOf(one)
      .slice(0, 1)
      .map((routine) => step(routine, [one])),
  );

/** A test of these steps, with the seconds that they take together. */
export const probe = (
  under: Probe["under"],
  routine: RoutineId,
  id: FunctionId | undefined,
  steps: readonly ProbeStep[],
  usually: readonly ProbeStep[],
): Probe => ({
  under,
  routine,
  function: id,
  steps,
  usually,
  seconds: steps.reduce((sum, { seconds }) => sum + seconds, 0),
});

/** One step of a test, with the usual seconds of its routine. */
export const step = (
  routine: ProbeRoutine,
  fitted: readonly Fitted[],
  functions: readonly FunctionId[] = fitted.map(({ function: id }) => id),
  options: StepOptions = {},
  circumstances?: Observation["circumstances"],
): ProbeStep => ({ routine, fitted, functions, options, seconds: SECONDS[routine], circumstances });

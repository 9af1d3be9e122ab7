import type { Bench } from "../../data/bench/bench.ts";
import { type Profile, travelOf } from "../../data/profile/profile.ts";
import type { StepOptions } from "../../data/sequence/sequence.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { MechanismId } from "../../domain/trade/mechanisms.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { Degrees, Seconds } from "../../domain/units.ts";
import { canPlay } from "../../plan/compile.ts";
import { type CircumstanceId, LEANS_OTHERWISE } from "./circumstances.ts";
import type { Observation } from "./observation.ts";
import type { Fitted } from "./places.ts";

/** A driven test that could be run next, on one function or, without one, on the fixture as a whole. */
export interface Probe {
  readonly under: CircumstanceId | "as usual";
  readonly routine: RoutineId;
  readonly function: FunctionId | undefined;
  /** What is played for it, in this order. */
  readonly steps: readonly ProbeStep[];
  /**
   * The same movements as usual, as often; of what moves at once each by itself, as many as one pair of eyes follows. What
   * the best of these shows would be no gain of the circumstance.
   */
  readonly usually: readonly (readonly ProbeStep[])[];
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

/** Each of these by itself, as a check plays it; what does not move is looked at. */
export const eachAsUsual = (fitted: readonly Fitted[]): readonly ProbeStep[] =>
  fitted.map((one) => step(routinesOf(one)[0] ?? "hold", [one]));

/** A test of these steps, with the seconds that they take together. */
export const probe = (
  under: Probe["under"],
  routine: RoutineId,
  id: FunctionId | undefined,
  steps: readonly ProbeStep[],
  usually: Probe["usually"],
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

/** A test to be driven, as it is played. */
export interface PlayedTest {
  readonly under: Probe["under"];
  readonly routine: RoutineId;
  /** Without one the fixture moves as a whole. */
  readonly function: FunctionId | undefined;
  /** What is played for it, in this order. */
  readonly steps: readonly OfferedStep[];
  readonly seconds: Seconds;
}

/** A step of a sequence that is not written yet. */
type OfferedStep = Pick<ProbeStep, "routine" | "functions" | "options">;

/** A key, everybody clear, to where it begins, the test watched, the question answered: minutes beside its own. Judgement. */
const HANDLING = 0.5;
/** To where the next step begins, and one question more; minutes. Judgement. */
const NEXT_STEP = 0.1;

/** How many minutes it takes somebody to play these tests in one go, one after the other: one key, a question for each step. */
export const minutesOf = (tests: readonly Pick<PlayedTest, "steps" | "seconds">[]): number => {
  const steps = tests.reduce((sum, one) => sum + one.steps.length, 0);
  return HANDLING + NEXT_STEP * (steps - 1) + tests.reduce((sum, { seconds }) => sum + seconds / 60, 0);
};

/** A test as it would be played. */
export const asPlayed = ({ under, routine, function: id, steps, seconds }: Probe): PlayedTest => ({
  under,
  routine,
  function: id,
  steps: steps.map(({ routine: played, functions, options }) => ({ routine: played, functions, options })),
  seconds,
});

/** What a test is about: not what keeps it warm, nor the axes that shake it. */
export const testedIn = ({
  under,
  function: id,
  steps,
}: Pick<PlayedTest, "under" | "function" | "steps">): readonly FunctionId[] => {
  if (id !== undefined) return [id];
  const moved = steps.filter(({ routine }) => routine !== "soak").flatMap(({ functions }) => functions);
  return [...new Set(moved)].filter((one) => under !== "shaken" || (one !== "Pan" && one !== "Tilt"));
};

/** What this fixture can be driven to on this bench: the head leans only as far as the beam may be open. Undefined: nobody knows the bench. */
export const drivableOn = (profile: Profile, bench: Bench | undefined): Drivable => ({
  canRun: (routine, id) => canPlay(profile, routine, id),
  leaning: bench && leaningOf(profile, bench),
});

/** What a slot value rounds to must not leave the sector. */
const MARGIN: Degrees = 1;

const leaningOf = (profile: Profile, { target, sector }: Bench): Drivable["leaning"] => {
  const travel = travelOf(profile, "Tilt");
  const within = (tilt: number): number =>
    travel ? Math.min(Math.max(travel.from, travel.to), Math.max(Math.min(travel.from, travel.to), tilt)) : tilt;
  const sides = [within(sector.tilt[0] + MARGIN), within(sector.tilt[1] - MARGIN)] as const;
  const leans = travel !== undefined && sides[1] - sides[0] >= LEANS_OTHERWISE;
  return leans ? { aimed: target.tilt, sides } : undefined;
};

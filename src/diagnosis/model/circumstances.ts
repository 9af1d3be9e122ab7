import { type FunctionId, isAxisFunction } from "../../domain/trade/functions.ts";
import type { MechanismId } from "../../domain/trade/mechanisms.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { Degrees, Probability } from "../../domain/units.ts";
import type { Circumstances, Observation } from "./observation.ts";
import type { Fitted } from "./places.ts";

/** Leaning less than this to another side is hardly another attitude. Judgement. */
export const LEANS_OTHERWISE: Degrees = 20;

/** Lenses travel along the beam. All else in the head moves across it, and so does the head's own weight about its axis. */
const ALONG_THE_BEAM: ReadonlySet<MechanismId> = new Set(["zoom", "focus"]);
/** A head that stands upright still feels a little of it, by its own jolts. Judgement. */
const LEAST_WEIGHT: Probability = 0.1;

/**
 * How much of its own weight acts along the way of what moves: nothing across gravity, all of it along. Pulled one way only
 * a slack part may rest where it should, so each way counts half. Nobody says how it stood: taken for all of it.
 */
export function weighing({ functions, circumstances }: Observation): Probability {
  if (!circumstances) return 1;
  return Math.max(LEAST_WEIGHT, ...functions.map(({ mechanism }) => pullOn(mechanism, circumstances.tilt)));
}

const radians = (degrees: Degrees): number => (degrees * Math.PI) / 180;

function pullOn(mechanism: MechanismId, [low, high]: Circumstances["tilt"]): Probability {
  const pull = (tilt: Degrees) => (ALONG_THE_BEAM.has(mechanism) ? Math.cos(radians(tilt)) : Math.sin(radians(tilt)));
  const turningPoints = [-180, -90, 0, 90, 180].filter((tilt) => tilt > low && tilt < high);
  const pulls = [low, high, ...turningPoints].map(pull);
  return (Math.max(0, ...pulls) + Math.max(0, ...pulls.map((one) => -one))) / 2;
}

/** The motors of pan and tilt take as much as several small ones. Judgement. */
const TAKES = { axis: 3, other: 1 } as const;
/** Fixtures home their functions a few at a time, and the lamp strikes. Common practice, no source. */
const HOMING: Readonly<Partial<Record<RoutineId, Probability>>> = { "power-up": 0.8, home: 0.8, return: 0.8 };

/** How hard a step loads the supply: 1 with ten small motors at once, or with both axes and four others. Judgement. */
export function loading({ routine, functions }: Observation): Probability {
  const motors = functions.reduce((sum, { function: id }) => sum + (isAxisFunction(id) ? TAKES.axis : TAKES.other), 0);
  return HOMING[routine] ?? Math.min(1, motors / 10);
}

/** Jumps go as fast as the fixture can. */
const JUMPS: ReadonlySet<RoutineId> = new Set(["snap", "step-through", "in-and-out", "shake", "power-up", "home"]);
/** A step that says nothing of its speed runs at about half. */
const USUAL_SPEED = 0.5;

/** How much of its torque a motor has to give: it falls with the speed. */
export const hurrying = ({ routine, circumstances }: Observation): Probability => {
  const speed = JUMPS.has(routine) ? 1 : (circumstances?.speed ?? USUAL_SPEED);
  return 0.3 + 0.7 * Math.min(1, speed);
};

const MOVES_THE_HEAD: ReadonlySet<RoutineId> = new Set(["sweep", "short-sweep", "snap", "shake", "power-up", "home"]);
/** The head where it always points: wires bend in one place only. Judgement. */
const STANDING_STILL: Probability = 0.35;

/** Whether the wires through yoke and head are bent as they are in use. */
export const turning = ({ routine, functions, circumstances }: Observation): Probability => {
  if (!circumstances) return 1;
  const moved = MOVES_THE_HEAD.has(routine) && functions.some(({ function: id }) => isAxisFunction(id));
  return moved || circumstances.leanings === "two" ? 1 : STANDING_STILL;
};

/** What it takes, beside the usual, for faults to show that show only so; in words. */
export const CIRCUMSTANCES = {
  hot: "hot",
  tipped: "with its head leaning to both sides",
  shaken: "while its head is shaken",
  fast: "at full speed",
  together: "with everything moving at once",
} as const;
export type CircumstanceId = keyof typeof CIRCUMSTANCES;

/** What is nearly as much as it gets. Judgement. */
const FULLY: Probability = 0.85;
const WARM_MINUTES = 8;

/** In which of these a run was watched. */
const WAS: Readonly<Record<CircumstanceId, (one: Observation) => boolean>> = {
  hot: ({ litMinutes }) => litMinutes >= WARM_MINUTES,
  tipped: ({ circumstances, functions }) =>
    circumstances?.leanings === "two" && functions.some(({ function: id }) => !isAxisFunction(id)),
  shaken: ({ routine }) => routine === "shake",
  fast: (one) => one.functions.some(({ function: id }) => isAxisFunction(id)) && hurrying(one) >= FULLY,
  together: (one) => one.routine !== "power-up" && loading(one) >= FULLY,
};

/** Whether a step was watched so. */
export const wasUnder = (id: CircumstanceId, observation: Observation): boolean => WAS[id](observation);

/** What nobody watched it do: of this a check says nothing. */
export const untriedIn = (observations: readonly Observation[]): readonly CircumstanceId[] => {
  const watched = observations.filter(
    ({ watched: how, result }) => how !== "no" && (result === "pass" || result === "fail"),
  );
  return (["hot", "tipped", "shaken", "fast", "together"] as const).filter((id) => !watched.some(WAS[id]));
};

/** What moves with all others when everything is to move at once: not the light itself, or nobody would see it drop. */
export const allTogether = (fitted: readonly Fitted[], travels: (id: FunctionId) => boolean): readonly Fitted[] =>
  fitted.filter(({ function: id }) => travels(id) && id !== "Dimmer" && !id.startsWith("ColorAdd_"));

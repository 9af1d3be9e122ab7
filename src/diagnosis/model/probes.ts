import type { StepOptions } from "../../data/sequence/schema.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { MechanismId } from "../../domain/trade/mechanisms.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { Degrees, Seconds } from "../../domain/units.ts";
import { allTogether, type CircumstanceId, LEANS_OTHERWISE } from "./circumstances.ts";
import { COMES_OUT } from "./knowledge/comes-out.ts";
import { FAULTS } from "./knowledge/faults.ts";
import type { Observation } from "./observation.ts";
import { canShow, type Fitted } from "./places.ts";

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
const SECONDS = {
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

/** What to watch for where it is not the routine's usual. */
const WATCH = {
  warming:
    "it warms up with the light on: nothing that can burn stands in the beam, nobody touches the hot head. Press if anything stops or goes out",
  tipped: "it moves as it did before: it neither falls nor catches with the head leaning this way",
  shaken: "nothing stops, drops out or flickers while the head is shaken",
  together: "nothing stops, starts anew or flickers while everything moves",
} as const;

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

/**
 * Every test without opening that this fixture could play now, of one function or of the whole, with the seconds it takes.
 *
 * @param litMinutes - since the light came on; 0 in the dark
 */
export function probesFor(fitted: readonly Fitted[], drivable: Drivable, litMinutes: number): readonly Probe[] {
  const { canRun } = drivable;
  const usual = fitted.flatMap((one) => routinesOf(one).map((routine) => asUsual(routine, [one], one.function)));
  const whole = (["home"] as const).map((routine) => asUsual(routine, fitted, undefined));
  return [
    ...[...usual, ...whole].filter(({ routine, function: id }) => canRun(routine, id)),
    ...hotProbes(fitted, drivable, litMinutes),
    ...tippedProbes(fitted, drivable),
    ...shakenProbes(fitted, drivable),
    ...allAtOnce(fitted, drivable),
  ];
}

const routinesOf = ({ function: id, mechanism }: Fitted): readonly ProbeRoutine[] =>
  id.endsWith("Pos") ? ["rotate"] : (ROUTINES[mechanism] ?? []);

const asUsual = (routine: ProbeRoutine, fitted: readonly Fitted[], id: FunctionId | undefined): Probe =>
  probe("as usual", routine, id, [step(routine, fitted, id === undefined ? [] : [id])], []);

/** Each of these by itself, as a check plays it. */
const eachAsUsual = (fitted: readonly Fitted[]): readonly ProbeStep[] =>
  fitted.flatMap((one) =>
    routinesOf(one)
      .slice(0, 1)
      .map((routine) => step(routine, [one])),
  );

const probe = (
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

const step = (
  routine: ProbeRoutine,
  fitted: readonly Fitted[],
  functions: readonly FunctionId[] = fitted.map(({ function: id }) => id),
  options: StepOptions = {},
  circumstances?: Observation["circumstances"],
): ProbeStep => ({ routine, fitted, functions, options, seconds: SECONDS[routine], circumstances });

/** How long it takes until all is as warm as it gets. Judgement. */
const WARM_AFTER_MINUTES = 10;
/** One there and back of a soak. */
const SOAK_STEP_S: Seconds = 20;
/** What keeps moving while it warms: it shows that somebody is at work, and none of them shuts the light off. */
const KEPT_MOVING: readonly FunctionId[] = ["Focus1", "Zoom", "ColorSub_C", "CTO"];

/** Where something binds when warm; and the fixture as a whole, for light, fans and joints. */
function hotProbes(fitted: readonly Fitted[], { canRun }: Drivable, litMinutes: number): readonly Probe[] {
  const missing = (WARM_AFTER_MINUTES - litMinutes) * 60;
  if (missing <= 0) return [];
  const seconds = Math.ceil(missing / SOAK_STEP_S) * SOAK_STEP_S;
  const warming = (one: Fitted): ProbeStep => ({
    routine: "soak",
    fitted: [one],
    functions: [one.function],
    options: { seconds, watch: WATCH.warming },
    seconds,
    circumstances: { tilt: [0, 0], leanings: "one", beam: "open", speed: 0.1 },
  });
  const parts = fitted.filter(({ mechanism }) => BINDS_WARM.has(mechanism));
  const keeper = KEPT_MOVING.flatMap((id) => fitted.filter((one) => one.function === id && canRun("soak", id)))[0];
  const light = fitted.find(({ function: id }) => id === "Dimmer" && canRun("hold", id));
  return [
    ...parts
      .filter((one) => canRun("soak", one.function))
      .map((one) => probe("hot", "sweep", one.function, [warming(one), step("sweep", [one])], eachAsUsual([one]))),
    ...(keeper && light ? [hotWhole(warming(keeper), parts, fitted, light)] : []),
  ];
}

/** All that binds, then light, fans and display. */
function hotWhole(warming: ProbeStep, parts: readonly Fitted[], fitted: readonly Fitted[], light: Fitted): Probe {
  const watched = [
    ...byMechanism(parts).map((group) => step("sweep", group)),
    step("hold", fitted, [light.function], { at_pct: [100], seconds: SECONDS.hold }),
  ];
  return probe("hot", "hold", undefined, [warming, ...watched], watched);
}

/** As many as one pair of eyes follows at once. */
const byMechanism = (fitted: readonly Fitted[]): readonly (readonly Fitted[])[] =>
  [...new Set(fitted.map(({ mechanism }) => mechanism))].map((mechanism) =>
    fitted.filter((one) => one.mechanism === mechanism).slice(0, AT_ONCE),
  );
const AT_ONCE = 4;

/** Mechanisms with a fault that shows only warm. */
const BINDS_WARM: ReadonlySet<MechanismId> = new Set(
  FAULTS.filter(({ when }) => when === "warm").map(({ mechanism }) => mechanism),
);

/** Whatever in the head can sag, fall or hang shows by leaning the head to both sides; tilt itself does that when it moves. */
function tippedProbes(fitted: readonly Fitted[], { canRun, leaning }: Drivable): readonly Probe[] {
  if (!leaning || !fitted.some(({ function: id }) => id === "Tilt")) return [];
  const able = fitted.filter((one) => {
    const [routine] = routinesOf(one);
    return routine && FEELS_WEIGHT.has(one.mechanism) && canRun(routine, one.function);
  });
  const flags = able.filter(({ mechanism }) => mechanism === "colour-flags");
  const groups = [...able.map((one) => [one]), ...(flags.length > 1 ? [flags.slice(0, AT_ONCE)] : [])];
  return groups.flatMap((group): readonly Probe[] => {
    const [routine] = group.flatMap(routinesOf);
    if (!routine) return [];
    const leaned = (tilt: Degrees) =>
      step(
        routine,
        group,
        undefined,
        { others: { Tilt: tilt }, watch: WATCH.tipped },
        {
          tilt: [tilt, tilt],
          leanings: Math.abs(tilt - leaning.aimed) >= LEANS_OTHERWISE || tilt === leaning.sides[1] ? "two" : "one",
          beam: "open",
          speed: 0.5,
        },
      );
    const [only, another] = group;
    return [
      probe("tipped", routine, another ? undefined : only?.function, leaning.sides.map(leaned), eachAsUsual(group)),
    ];
  });
}

/** What differs head up and head down, or is moved by its own weight. */
const FEELS_WEIGHT: ReadonlySet<MechanismId> = new Set(
  FAULTS.filter(
    ({ mechanism, does }) =>
      mechanism !== "pan-drive" &&
      mechanism !== "tilt-drive" &&
      (canShow(mechanism, "tilt-matters") || does.some(({ effect }) => COMES_OUT[effect]?.when === "weighed")),
  ).map(({ mechanism }) => mechanism),
);

/** A contact that opens with movement: the head is shaken while a part of it is at work, or its light is watched. */
function shakenProbes(fitted: readonly Fitted[], { canRun }: Drivable): readonly Probe[] {
  const axes = axesOf(fitted).filter(({ function: id }) => canRun("shake", id));
  if (axes.length === 0) return [];
  const seconds = SECONDS.shake;
  const parts = fitted.filter((one) => !isAxis(one) && one.function !== "Dimmer" && canRun("shake", one.function));
  return [
    ...parts.map((one) =>
      probe(
        "shaken",
        "shake",
        one.function,
        [step("shake", [...axes, one], undefined, { seconds, watch: WATCH.shaken })],
        eachAsUsual([one]),
      ),
    ),
    probe(
      "shaken",
      "shake",
      undefined,
      [step("shake", axes, undefined, { seconds, watch: WATCH.shaken })],
      eachAsUsual(axes),
    ),
  ];
}

const isAxis = ({ function: id }: Fitted): boolean => id === "Pan" || id === "Tilt";
const axesOf = (fitted: readonly Fitted[]): readonly Fitted[] => fitted.filter(isAxis);

/** As fast as both axes can; and everything at once, which asks most of the supply. */
function allAtOnce(fitted: readonly Fitted[], { canRun }: Drivable): readonly Probe[] {
  const axes = axesOf(fitted).filter(({ function: id }) => canRun("sweep", id));
  const all = allTogether(fitted, (id) => canRun("snap", id));
  const fast = step("sweep", axes, undefined, { speed: "full", passes: 4 }, AT_FULL_SPEED);
  const together = step("snap", all, undefined, { times: 4, dwell_s: 0.8, watch: WATCH.together });
  return [
    ...(axes.length > 0 ? [probe("fast", "sweep", undefined, [fast], eachAsUsual(axes))] : []),
    ...(all.length > axes.length + 1 ? [probe("together", "snap", undefined, [together], eachAsUsual(all))] : []),
  ];
}

const AT_FULL_SPEED = { tilt: [-90, 90], leanings: "one", beam: "shut", speed: 1 } as const;

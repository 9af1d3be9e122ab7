import { type FunctionId, isAxisFunction } from "../../domain/trade/functions.ts";
import type { MechanismId } from "../../domain/trade/mechanisms.ts";
import { isAxisMechanism } from "../../domain/trade/symptoms.ts";
import type { Degrees, Seconds } from "../../domain/units.ts";
import { allTogether, LEANS_OTHERWISE } from "./circumstances.ts";
import { COMES_OUT } from "./knowledge/comes-out.ts";
import { FAULTS } from "./knowledge/faults.ts";
import { canShow, type Fitted } from "./places.ts";
import {
  asUsual,
  type Drivable,
  eachAsUsual,
  type Probe,
  type ProbeStep,
  probe,
  routinesOf,
  SECONDS,
  step,
} from "./probe.ts";

/** What to watch for where it is not the routine's usual. */
const WATCH = {
  warming:
    "it warms up with the light on: nothing that can burn stands in the beam, nobody touches the hot head. Press if anything stops or goes out",
  tipped: "it moves as it did before: it neither falls nor catches with the head leaning this way",
  shaken: "nothing stops, drops out or flickers while the head is shaken",
  together: "nothing stops, starts anew or flickers while everything moves",
} as const;

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
      .map((one) => probe("hot", "sweep", one.function, [warming(one), step("sweep", [one])], [eachAsUsual([one])])),
    ...(keeper && light ? [hotWhole(warming(keeper), parts, fitted, light)] : []),
  ];
}

/** All that binds, then light, fans and display. */
function hotWhole(warming: ProbeStep, parts: readonly Fitted[], fitted: readonly Fitted[], light: Fitted): Probe {
  const watched = [
    ...byMechanism(parts).map((group) => step("sweep", group)),
    step("hold", fitted, [light.function], { at_pct: [100], seconds: SECONDS.hold }),
  ];
  return probe("hot", "hold", undefined, [warming, ...watched], [[...eachAsUsual(warming.fitted), ...watched]]);
}

/** A hot test that is played after others: it warms up for as much less as the light was on in the tests `before` it. */
export const warmedMeanwhile = (hot: Probe, before: readonly Probe[]): Probe => {
  const lit = before.flatMap(({ steps }) => steps).filter(({ circumstances }) => circumstances?.beam !== "shut");
  const spared = Math.floor(lit.reduce((sum, { seconds }) => sum + seconds, 0) / SOAK_STEP_S) * SOAK_STEP_S;
  const steps = hot.steps.map((one): ProbeStep => {
    if (one.routine !== "soak") return one;
    const seconds = Math.max(SOAK_STEP_S, one.seconds - spared);
    return { ...one, seconds, options: { ...one.options, seconds } };
  });
  return probe(hot.under, hot.routine, hot.function, steps, hot.usually);
};

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
    const upright = leaning.sides.flatMap(() => eachAsUsual(group));
    return [probe("tipped", routine, another ? undefined : only?.function, leaning.sides.map(leaned), [upright])];
  });
}

/** What differs head up and head down, or is moved by its own weight. */
const FEELS_WEIGHT: ReadonlySet<MechanismId> = new Set(
  FAULTS.filter(
    ({ mechanism, does }) =>
      !isAxisMechanism(mechanism) &&
      (canShow(mechanism, "tilt-matters") || does.some(({ effect }) => COMES_OUT[effect]?.when === "weighed")),
  ).map(({ mechanism }) => mechanism),
);

/** A contact that opens with movement: the head is shaken while a part of it is at work, or its light is watched. */
function shakenProbes(fitted: readonly Fitted[], { canRun }: Drivable): readonly Probe[] {
  const axes = axesOf(fitted).filter(({ function: id }) => canRun("shake", id));
  if (axes.length === 0) return [];
  const seconds = SECONDS.shake;
  const parts = fitted.filter(
    (one) => !isAxisFunction(one.function) && one.function !== "Dimmer" && canRun("shake", one.function),
  );
  return [
    ...parts.map((one) =>
      probe(
        "shaken",
        "shake",
        one.function,
        [step("shake", [...axes, one], undefined, { seconds, watch: WATCH.shaken })],
        [eachAsUsual([...axes, one])],
      ),
    ),
    probe(
      "shaken",
      "shake",
      undefined,
      [step("shake", axes, undefined, { seconds, watch: WATCH.shaken })],
      [eachAsUsual(axes)],
    ),
  ];
}

const axesOf = (fitted: readonly Fitted[]): readonly Fitted[] => fitted.filter((one) => isAxisFunction(one.function));

/** As fast as both axes can; and everything at once, which asks most of the supply. */
function allAtOnce(fitted: readonly Fitted[], { canRun }: Drivable): readonly Probe[] {
  const axes = axesOf(fitted).filter(({ function: id }) => canRun("sweep", id));
  const all = allTogether(fitted, (id) => canRun("snap", id));
  const fast = step("sweep", axes, undefined, { speed: "full", passes: 4 }, AT_FULL_SPEED);
  const together = step("snap", all, undefined, { times: 4, dwell_s: 0.8, watch: WATCH.together });
  return [
    ...(axes.length > 0 ? [probe("fast", "sweep", undefined, [fast], [eachAsUsual(axes)])] : []),
    ...(all.length > axes.length + 1
      ? [probe("together", "snap", undefined, [together], asManyAsEyesFollow(all))]
      : []),
  ];
}

/** What moves at once is seen no better than as many parts one after the other. */
const asManyAsEyesFollow = (fitted: readonly Fitted[]): Probe["usually"] =>
  Array.from({ length: Math.ceil(fitted.length / AT_ONCE) }, (_, n) =>
    eachAsUsual(fitted.slice(n * AT_ONCE, (n + 1) * AT_ONCE)),
  );

const AT_FULL_SPEED = { tilt: [-90, 90], leanings: "one", beam: "shut", speed: 1 } as const;

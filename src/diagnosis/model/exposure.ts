import { isAxisFunction } from "../../domain/trade/functions.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import { SYMPTOMS, type SymptomId } from "../../domain/trade/symptoms.ts";
import type { Probability } from "../../domain/units.ts";
import { chanceOf, chanceWhenTipped } from "./chances.ts";
import { hurrying, loading, turning, weighing } from "./circumstances.ts";
import type { Condition } from "./knowledge/entry.ts";
import type { Observation } from "./observation.ts";
import type { Place } from "./places.ts";

/** What a result tells of symptoms that were not reported. All starter values, judgement. */
const HEEDED: Readonly<Record<Observation["result"], Probability>> = {
  pass: 1,
  /** Who reports one thing may leave out another. */
  fail: 0.3,
  unsure: 0.2,
  "not-watched": 0,
  "not-fitted": 0,
  "not-asked": 0,
  repeat: 0,
};
const ATTENTION: Readonly<Record<Observation["watched"], Probability>> = { attended: 1, confirmed: 0.7, no: 0 };

/**
 * How surely this step would have made the symptom known, had its fault shown itself; 0
 * where it could not have been seen here.
 */
export function exposure(observation: Observation, symptom: SymptomId): Probability {
  const tipped = observation.circumstances?.leanings === "two" ? chanceWhenTipped(symptom) : 0;
  const seen = isHidden(observation, symptom) ? 0 : Math.max(tipped, chanceOf(symptom, observation.routine));
  const eyes = SYMPTOMS[symptom].on === "fixture" ? 1 : share(observation.functions.length);
  return seen * HEEDED[observation.result] * ATTENTION[observation.watched] * eyes;
}

/** Nobody watches more than three things at once; what the fixture does as a whole is one. */
const share = (functions: number): Probability => Math.min(1, 3 / Math.max(1, functions));

/** Wide pan and tilt movements run with the shutter closed: what only the light shows cannot be seen then. */
const DARK: ReadonlySet<RoutineId> = new Set(["sweep", "short-sweep", "shake", "power-up", "home"]);
const LIGHTS_UP: ReadonlySet<SymptomId> = new Set(["no-strike", "slow-strike", "light-out", "cuts-out"]);
/** With the beam shut; whoever does not know it goes by what is usual. Light that went out in the dark is missed when it opens again. */
function isHidden(observation: Observation, symptom: SymptomId): boolean {
  const { circumstances, routine } = observation;
  if (!circumstances) return hiddenInTheDark(observation, symptom);
  if (circumstances.beam === "open" || SYMPTOMS[symptom].by !== "light") return false;
  return !(
    ((routine === "power-up" || routine === "home") && LIGHTS_UP.has(symptom)) ||
    (routine === "soak" && GONE_AFTERWARDS.has(symptom))
  );
}

const GONE_AFTERWARDS: ReadonlySet<SymptomId> = new Set(["light-out", "cuts-out"]);

const hiddenInTheDark = ({ routine, functions }: Observation, symptom: SymptomId): boolean =>
  SYMPTOMS[symptom].by === "light" &&
  DARK.has(routine) &&
  functions.every(({ function: id }) => isAxisFunction(id)) &&
  !((routine === "power-up" || routine === "home") && LIGHTS_UP.has(symptom));

/**
 * The steps in which something could be judged. Once the light never came, what only the light shows is unjudged from then
 * on; once everything is dead or nothing moves, so is everything.
 */
function judgeable(observations: readonly Observation[], symptom: SymptomId): readonly Observation[] {
  const dark = SYMPTOMS[symptom].by === "light" && !LIGHTS_UP.has(symptom);
  const ends = observations.findIndex(({ symptoms }) =>
    symptoms.some((one) => ENDS_ALL.has(one.symptom) || (dark && one.symptom === "no-strike")),
  );
  return ends < 0 ? observations : observations.slice(0, ends);
}

const ENDS_ALL: ReadonlySet<SymptomId> = new Set(["went-dead", "nothing-moves"]);

/**
 * Whether a part that does not travel can still show this symptom of its own: nobody sees
 * whether it is slow, or where it would stick.
 */
export const standsStill = (symptom: SymptomId): boolean => symptom === "no-move" || symptom === "trembles";

/**
 * Whether this symptom is heard of a part that does not travel: whether its motor works against what holds it,
 * since dead is silent and held is not.
 */
export const isHeardStanding = (symptom: SymptomId): boolean => HEARD_STANDING.has(symptom);
const HEARD_STANDING: ReadonlySet<SymptomId> = new Set(["trembles", "grinds", "whines"]);

/** How far a fault comes out in a step, by its own condition. Starter values, judgement. */
export function expression(when: Condition, observation: Observation): Probability {
  const { litMinutes, routine, attitude } = observation;
  switch (when) {
    case "always":
      return 1;
    case "warm":
      return warmth(litMinutes);
    case "cold":
      return 1.2 - warmth(litMinutes);
    case "hung":
      return attitude === "hung" ? 1 : 0.4;
    case "shaken":
      return SHAKES[routine] ?? 0.35;
    case "weighed":
      return weighing(observation);
    case "loaded":
      return loading(observation);
    case "hurried":
      return hurrying(observation);
    case "turned":
      return turning(observation);
    case "now-and-then":
      return seenAmong(observation.movements ?? USUAL_MOVEMENTS);
  }
}

const USUAL_MOVEMENTS = 2;
const ONCE_IN_USUAL: Probability = 0.35;
/** What comes now and then is the likelier seen the more often a thing moves: each there and back is a chance of its own. */
const seenAmong = (movements: number): Probability =>
  1 - (1 - ONCE_IN_USUAL) ** (Math.min(movements, 40) / USUAL_MOVEMENTS);

const SHAKES: Readonly<Partial<Record<RoutineId, Probability>>> = { shake: 1, snap: 0.6, "power-up": 0.4 };
/** Rises from a little at once to fully after ten minutes of light. */
const warmth = (litMinutes: number): Probability => Math.min(1, 0.2 + 0.08 * Math.max(0, litMinutes));

/** One chance that a symptom had to show itself and be caught. */
export interface Chance {
  readonly observation: Observation;
  readonly caught: Probability;
}

/** The chances that a symptom had to show at a place, one for each step that could have shown it. */
export const chancesOf = (observations: readonly Observation[], place: Place, symptom: SymptomId): readonly Chance[] =>
  judgeable(observations, symptom)
    .filter((one) => place === "fixture" || moves(one, place))
    .map((observation) => ({ observation, caught: exposure(observation, symptom) }))
    .filter(({ caught }) => caught > 0);

/** Whether a step has moved any function of a part. */
export const moves = ({ functions }: Observation, place: Exclude<Place, "fixture">): boolean =>
  functions.some(({ function: id }) => place.functions.includes(id));

/** How much silence says against a fault of a condition: 0 when it had no chance to show, near 1 when it had many. */
export function silenceOf(chances: readonly Chance[]): (when: Condition) => Probability {
  const known = new Map<Condition, Probability>();
  return (when) => {
    const value =
      known.get(when) ??
      1 - chances.reduce((left, { observation, caught }) => left * (1 - caught * expression(when, observation)), 1);
    known.set(when, value);
    return value;
  };
}

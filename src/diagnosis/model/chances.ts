import type { RoutineId } from "../../domain/trade/routines.ts";
import { SYMPTOMS, type SymptomId } from "../../domain/trade/symptoms.ts";
import type { Probability } from "../../domain/units.ts";

/**
 * How good a chance each routine gives a fault to show a symptom, if it shows it at all. A routine that is not named
 * cannot show it: nobody sees a wobble in a gobo that does not turn. Starter values, judgement.
 */
type Chances = Readonly<Partial<Record<RoutineId, Probability>>>;

const TRAVEL: Chances = {
  sweep: 0.9,
  "short-sweep": 0.8,
  "step-through": 0.8,
  rotate: 0.8,
  "in-and-out": 0.8,
  snap: 0.8,
  backlash: 0.6,
  shake: 0.5,
  "power-up": 0.4,
  home: 0.4,
  return: 0.3,
  "side-by-side": 0.5,
  soak: 0.2,
  identify: 0.2,
};
const HOMING: Chances = { "power-up": 0.95, home: 0.95, return: 0.8, soak: 0.1 };
const PLACE: Chances = {
  "step-through": 0.7,
  snap: 0.6,
  return: 0.6,
  "in-and-out": 0.5,
  rotate: 0.4,
  sweep: 0.4,
  backlash: 0.4,
  hold: 0.3,
  "power-up": 0.3,
  home: 0.3,
  "side-by-side": 0.8,
};
const TURNING: Chances = { rotate: 0.85, "step-through": 0.3, "in-and-out": 0.3, sweep: 0.3, soak: 0.2 };
const LIGHT: Chances = {
  sweep: 0.6,
  hold: 0.7,
  "step-through": 0.3,
  rotate: 0.2,
  "in-and-out": 0.4,
  snap: 0.3,
  backlash: 0.2,
  soak: 0.2,
  return: 0.3,
  "side-by-side": 0.9,
};
const COLOUR: Chances = { sweep: 0.6, "step-through": 0.6, hold: 0.5, snap: 0.4, "side-by-side": 0.9 };
const ANY_TIME: Chances = {
  ...TRAVEL,
  sweep: 0.5,
  "short-sweep": 0.5,
  "step-through": 0.5,
  rotate: 0.5,
  "in-and-out": 0.5,
  snap: 0.5,
  shake: 0.7,
  hold: 0.5,
  "power-up": 0.7,
  home: 0.6,
  soak: 0.5,
};
const AT_START: Chances = { "power-up": 0.95, home: 0.3, identify: 0.3 };
const SELDOM: Chances = { identify: 0.1, sweep: 0.1, hold: 0.1, "power-up": 0.2, soak: 0.1 };

const CHANCES: Readonly<Record<SymptomId, Chances>> = {
  "no-move": { ...TRAVEL, identify: 0.5 },
  "stops-short": { sweep: 0.7, "in-and-out": 0.6, snap: 0.3, "step-through": 0.3, "power-up": 0.2, home: 0.2 },
  jerks: TRAVEL,
  stalls: TRAVEL,
  slow: { ...TRAVEL, stopwatch: 0.95, "side-by-side": 0.9 },
  grinds: { ...TRAVEL, "power-up": 0.7, home: 0.7 },
  "wrong-place": PLACE,
  "side-differs": { backlash: 0.95, snap: 0.4, sweep: 0.1 },
  "swings-on": { snap: 0.9, shake: 0.7, backlash: 0.5, sweep: 0.4 },
  knocks: { snap: 0.8, shake: 0.6, sweep: 0.5, backlash: 0.5 },
  hunts: { hold: 0.9, snap: 0.7, backlash: 0.6, sweep: 0.5, "short-sweep": 0.4, "power-up": 0.4, home: 0.4 },
  "catches-up": { sweep: 0.9, "short-sweep": 0.8, snap: 0.6, shake: 0.4 },
  creeps: { hold: 0.9, backlash: 0.2, soak: 0.1 },
  trembles: TRAVEL,
  whines: TRAVEL,
  ticks: TURNING,
  rattles: { ...TRAVEL, shake: 0.9, snap: 0.8 },
  "keeps-homing": HOMING,
  "wrong-item": { "step-through": 0.9, "power-up": 0.1, return: 0.4, rotate: 0.2, "side-by-side": 0.8 },
  "between-two": { "step-through": 0.9, return: 0.4, rotate: 0.2, "side-by-side": 0.8 },
  "moved-after": {
    return: 0.9,
    shake: 0.8,
    snap: 0.6,
    "step-through": 0.3,
    home: 0.4,
    "in-and-out": 0.1,
    sweep: 0.15,
    backlash: 0.3,
    hold: 0.5,
  },
  wobbles: { ...TURNING, "step-through": 0.4 },
  "soft-turning": TURNING,
  "uneven-turning": TURNING,
  "gobos-differ": { rotate: 0.6, "side-by-side": 0.5 },
  "misses-angle": { rotate: 0.5, "step-through": 0.6, snap: 0.5 },
  "not-sharp": { sweep: 0.8, hold: 0.5, "step-through": 0.3 },
  "tilt-matters": { sweep: 0.15, "in-and-out": 0.15, snap: 0.1 },
  "half-in": { "in-and-out": 0.9, sweep: 0.5, "step-through": 0.3, snap: 0.4 },
  "not-round": { sweep: 0.7, snap: 0.4, "in-and-out": 0.5, hold: 0.3 },
  "hangs-closed": { sweep: 0.8, snap: 0.8, "in-and-out": 0.6, soak: 0.3 },
  "leaks-light": { snap: 0.6, sweep: 0.5, "in-and-out": 0.5, hold: 0.3 },
  "uneven-strobe": { snap: 0.7, "in-and-out": 0.7, sweep: 0.5, "step-through": 0.5 },
  "dimmer-steps": { sweep: 0.8, hold: 0.5, "short-sweep": 0.5 },
  patchy: COLOUR,
  "wrong-shade": COLOUR,
  "late-flag": { sweep: 0.7, snap: 0.7, "in-and-out": 0.5, "side-by-side": 0.8 },
  crooked: { sweep: 0.7, snap: 0.5, hold: 0.5, "in-and-out": 0.5 },
  "slips-back": { hold: 0.8, "in-and-out": 0.4, sweep: 0.2, snap: 0.2, soak: 0.1 },
  "colour-dead": { ...COLOUR, sweep: 0.9 },
  dim: LIGHT,
  tinted: LIGHT,
  veil: LIGHT,
  shadow: LIGHT,
  flickers: { ...LIGHT, hold: 0.9, shake: 0.7 },
  "no-strike": { ...AT_START, hold: 0.9, sweep: 0.5 },
  "slow-strike": AT_START,
  "cuts-out": { soak: 0.9, hold: 0.2, sweep: 0.1, return: 0.3 },
  "display-dark": { ...AT_START, home: 0.5 },
  "fan-still": { "power-up": 0.4, soak: 0.5, hold: 0.3 },
  "nothing-moves": { "power-up": 0.5, identify: 0.95, sweep: 0.9, home: 0.8 },
  "wrong-thing": { identify: 0.9, sweep: 0.4, "step-through": 0.4, "in-and-out": 0.4 },
  inverted: { identify: 0.6, sweep: 0.4, snap: 0.2, "side-by-side": 0.95 },
  "short-range": { sweep: 0.6, "side-by-side": 0.7 },
  "by-cable": SELDOM,
  "at-angle": SELDOM,
  "several-at-once": { ...SELDOM, shake: 0.3, "power-up": 0.4, home: 0.4 },
  "forgets-settings": SELDOM,
  "head-shakes": { snap: 0.7, shake: 0.8, sweep: 0.4, backlash: 0.3 },
  // Known only when something else was reported often enough: their silence says nothing.
  "at-one-place": {},
  "one-way-only": {},
  "near-an-end": {},
  "at-no-place": {},
  "something-else-moved": ANY_TIME,
  "reset-itself": ANY_TIME,
  "error-shown": ANY_TIME,
  "light-out": { ...LIGHT, sweep: 0.6, shake: 0.7, soak: 0.5 },
  "went-dead": ANY_TIME,
  "smells-burnt": ANY_TIME,
  "fan-loud": { ...ANY_TIME, "power-up": 0.8 },
};

/** How often an observer who watches catches what shows. Starter values, judgement. */
const CAUGHT = { eye: 0.85, light: 0.85, ear: 0.7, nose: 0.5 } as const;

/** How likely a symptom that is there is seen in one playing of a routine. Judgement, no source. */
export const chanceOf = (symptom: SymptomId, routine: RoutineId): Probability =>
  (CHANCES[symptom][routine] ?? 0) * CAUGHT[SYMPTOMS[symptom].by];

/**
 * What shows by comparing one attitude of the head with another, where the same movement was watched in both. Starter values,
 * judgement: that it differs is what one looks for; that wires open at an angle, or that something falls over, comes with it.
 */
const TIPPED: Readonly<Partial<Record<SymptomId, Probability>>> = {
  "tilt-matters": 0.85,
  "at-angle": 0.5,
  rattles: 0.9,
};

/** How likely a symptom that is there is seen in a movement with the head leaning another way than before, 0 to 1. Judgement. */
export const chanceWhenTipped = (symptom: SymptomId): Probability =>
  (TIPPED[symptom] ?? 0) * CAUGHT[SYMPTOMS[symptom].by];

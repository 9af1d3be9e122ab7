import { keysOf } from "../keys.ts";
import type { MechanismId } from "./mechanisms.ts";

/** Everything that moves by itself. */
export const MOVERS = [
  "pan-drive",
  "tilt-drive",
  "colour-wheel",
  "colour-flags",
  "fixed-gobo-wheel",
  "rotating-gobo-wheel",
  "effect-wheel",
  "prism",
  "frost",
  "iris",
  "zoom",
  "focus",
  "framing-blades",
  "dimmer-shutter",
] as const satisfies readonly MechanismId[];
/** What moves the head as a whole. */
export const AXES = ["pan-drive", "tilt-drive"] as const;
/** Whether a mechanism moves the head as a whole: the drive of pan or of tilt. */
export const isAxisMechanism = (id: MechanismId): boolean => AXES.some((axis) => axis === id);
const WHEELS = ["colour-wheel", "fixed-gobo-wheel", "rotating-gobo-wheel", "effect-wheel"] as const;
const LENSES = ["zoom", "focus"] as const;
const TURNERS = ["rotating-gobo-wheel", "prism", "effect-wheel"] as const;

interface SymptomEntry {
  readonly words: string;
  readonly on: readonly MechanismId[] | "fixture";
  /** How it reaches the observer: a closed shutter hides what only the light shows. */
  readonly by: "eye" | "light" | "ear" | "nose";
}

/**
 * What an observer can see, hear or smell while the fixture works, as a closed list. `on` says which mechanisms can show
 * it, the commonest reports first in the list as a whole; "fixture" symptoms belong to no single function.
 * A symptom reported about a function counts for that function's mechanism.
 */
export const SYMPTOMS = {
  "no-move": { words: "does not move", on: MOVERS, by: "eye" },
  "stops-short": { words: "does not reach the end", on: MOVERS, by: "eye" },
  jerks: { words: "jerks or hesitates", on: MOVERS, by: "eye" },
  stalls: { words: "sticks on the way", on: MOVERS, by: "eye" },
  slow: { words: "slower than it should be", on: MOVERS, by: "eye" },
  grinds: { words: "scrapes or grinds", on: MOVERS, by: "ear" },
  "wrong-place": { words: "stands in the wrong place", on: MOVERS, by: "eye" },
  "side-differs": {
    words: "stops in two places, depending on the side it comes from",
    on: [...AXES, ...LENSES],
    by: "eye",
  },
  "swings-on": { words: "swings on after the stop", on: AXES, by: "eye" },
  knocks: { words: "knocks when it reverses", on: [...AXES, ...LENSES], by: "ear" },
  hunts: { words: "swings to and fro without coming to rest", on: AXES, by: "eye" },
  "catches-up": { words: "stops, then catches up", on: AXES, by: "eye" },
  creeps: { words: "creeps away while it should stand still", on: [...AXES, ...LENSES, "iris"], by: "eye" },
  trembles: { words: "buzzes or trembles and does not travel", on: MOVERS, by: "eye" },
  whines: { words: "whines", on: [...AXES, ...LENSES, ...TURNERS, "cooling", "power-supply"], by: "ear" },
  ticks: { words: "ticks as it turns", on: [...TURNERS, "cooling"], by: "ear" },
  rattles: { words: "rattles", on: [...MOVERS, "chassis", "optics", "cooling"], by: "ear" },
  "keeps-homing": {
    words: "circles or searches for home",
    on: [...AXES, ...WHEELS, ...LENSES, "colour-flags"],
    by: "eye",
  },
  "wrong-item": { words: "shows the wrong colour or gobo", on: WHEELS, by: "light" },
  "between-two": { words: "stands between two positions", on: WHEELS, by: "light" },
  "moved-after": { words: "is not where it was before", on: MOVERS, by: "eye" },
  wobbles: { words: "picture wobbles as it turns", on: [...TURNERS, "fixed-gobo-wheel"], by: "light" },
  "soft-turning": { words: "goes in and out of focus as it turns", on: ["rotating-gobo-wheel"], by: "light" },
  "uneven-turning": { words: "does not turn evenly", on: TURNERS, by: "light" },
  "gobos-differ": { words: "gobos turn at different rates", on: ["rotating-gobo-wheel"], by: "light" },
  "misses-angle": { words: "misses its angle", on: TURNERS, by: "light" },
  "not-sharp": { words: "cannot be made sharp", on: ["focus", "zoom", "optics"], by: "light" },
  "tilt-matters": {
    words: "behaves differently head up and head down",
    on: [...LENSES, "colour-flags", "prism", "frost", "tilt-drive"],
    by: "eye",
  },
  "half-in": {
    words: "stands half in the beam",
    on: ["prism", "frost", "framing-blades", "dimmer-shutter", "colour-flags"],
    by: "light",
  },
  "not-round": { words: "opening is not round", on: ["iris"], by: "light" },
  "hangs-closed": { words: "does not open again", on: ["iris", "dimmer-shutter"], by: "light" },
  "leaks-light": { words: "light leaks when shut", on: ["dimmer-shutter", "iris"], by: "light" },
  "uneven-strobe": { words: "strobes unevenly", on: ["dimmer-shutter"], by: "light" },
  "dimmer-steps": { words: "dims in steps or flickers low down", on: ["dimmer-shutter", "light-engine"], by: "light" },
  patchy: { words: "colour is patchy or streaked", on: ["colour-flags", "colour-wheel", "optics"], by: "light" },
  "wrong-shade": {
    words: "colour is the wrong shade",
    on: ["colour-flags", "colour-wheel", "light-engine"],
    by: "light",
  },
  "late-flag": { words: "one colour comes late", on: ["colour-flags"], by: "light" },
  crooked: { words: "edge is crooked or bowed", on: ["framing-blades"], by: "light" },
  "slips-back": {
    words: "slips back by itself",
    on: ["framing-blades", "frost", "prism", "iris", ...LENSES],
    by: "eye",
  },
  "colour-dead": { words: "one emitter stays dark", on: ["light-engine"], by: "light" },
  dim: { words: "less light than there should be", on: ["light-engine", "optics", "cooling"], by: "light" },
  tinted: { words: "light is tinted in every state", on: ["optics", "light-engine"], by: "light" },
  veil: { words: "halo or veil round the picture", on: ["optics"], by: "light" },
  shadow: { words: "dark spot or shadow in the field", on: ["optics", "light-engine", "frost", "prism"], by: "light" },
  flickers: { words: "light flickers", on: ["light-engine", "power-supply"], by: "light" },
  "no-strike": { words: "does not light up", on: ["light-engine", "power-supply"], by: "light" },
  "slow-strike": { words: "slow or several tries to light up", on: ["light-engine"], by: "light" },
  "cuts-out": { words: "light cuts out after some time", on: ["light-engine", "cooling"], by: "light" },
  "display-dark": { words: "display stays dark or garbled", on: ["control", "power-supply"], by: "eye" },
  "fan-still": { words: "a fan does not turn", on: ["cooling"], by: "eye" },
  "nothing-moves": { words: "nothing moves at all", on: ["control", "power-supply"], by: "eye" },
  "wrong-thing": { words: "something else moves instead", on: ["control"], by: "eye" },
  inverted: { words: "moves the other way round", on: [...AXES, "control"], by: "eye" },
  "short-range": { words: "whole travel is shorter than it should be", on: [...AXES, "control"], by: "eye" },
  "by-cable": { words: "comes and goes when a plug is touched", on: ["control", "yoke-loom"], by: "eye" },
  "at-angle": { words: "happens only with the head at a certain angle", on: ["yoke-loom"], by: "eye" },
  "several-at-once": {
    words: "several functions act up together",
    on: ["control", "yoke-loom", "power-supply"],
    by: "eye",
  },
  "forgets-settings": { words: "forgets its settings", on: ["control"], by: "eye" },
  "head-shakes": { words: "yoke or head shakes or has play", on: ["chassis", "tilt-drive", "pan-drive"], by: "eye" },
  "at-one-place": { words: "always at the same place of the travel", on: MOVERS, by: "eye" },
  "one-way-only": { words: "only in one direction", on: MOVERS, by: "eye" },
  "near-an-end": {
    words: "only near an end of the travel",
    on: [...AXES, ...LENSES, "colour-flags", "prism", "frost", "iris", "framing-blades", "dimmer-shutter"],
    by: "eye",
  },
  "at-no-place": { words: "in changing places", on: MOVERS, by: "eye" },
  "something-else-moved": { words: "something else moved too", on: "fixture", by: "eye" },
  "reset-itself": { words: "reset itself", on: "fixture", by: "eye" },
  "error-shown": { words: "error on the display", on: "fixture", by: "eye" },
  "light-out": { words: "light went out", on: "fixture", by: "light" },
  "went-dead": { words: "everything went dead", on: "fixture", by: "eye" },
  "smells-burnt": { words: "smells burnt", on: "fixture", by: "nose" },
  "fan-loud": { words: "fan is loud", on: "fixture", by: "ear" },
} as const satisfies Readonly<Record<string, SymptomEntry>>;

export type SymptomId = keyof typeof SYMPTOMS;
export const SYMPTOM_IDS = keysOf(SYMPTOMS);

/** A symptom as screens, sheets and lists say it. */
export const symptomWords = (id: SymptomId): string => SYMPTOMS[id].words;

/** The same short list at every step: what can go wrong with the fixture as a whole. */
export const FIXTURE_SYMPTOMS = SYMPTOM_IDS.filter((id) => SYMPTOMS[id].on === "fixture");

/** What a mechanism can show, commonest first. */
export const symptomsOf = (mechanism: MechanismId): readonly SymptomId[] =>
  SYMPTOM_IDS.filter((id) => {
    const { on }: SymptomEntry = SYMPTOMS[id];
    return on !== "fixture" && on.includes(mechanism);
  });

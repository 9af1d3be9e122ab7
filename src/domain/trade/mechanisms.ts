import { keysOf } from "../keys.ts";
import { FUNCTIONS, type FunctionId } from "./functions.ts";

/** The assemblies of a moving light, as a repairer would name them. Every symptom and fault belongs to one. */
export const MECHANISMS = {
  "pan-drive": "pan drive",
  "tilt-drive": "tilt drive",
  "yoke-loom": "yoke and wiring loom",
  "colour-wheel": "colour wheel",
  "colour-flags": "colour flags",
  "fixed-gobo-wheel": "fixed gobo wheel",
  "rotating-gobo-wheel": "rotating gobo wheel",
  "effect-wheel": "animation wheel",
  prism: "prism",
  frost: "frost",
  iris: "iris",
  zoom: "zoom",
  focus: "focus",
  "framing-blades": "framing blades",
  "dimmer-shutter": "dimmer and shutter",
  "light-engine": "light engine",
  optics: "optics",
  cooling: "fans and cooling",
  "power-supply": "power supply",
  control: "control electronics and data",
  chassis: "chassis",
} as const;

export type MechanismId = keyof typeof MECHANISMS;
export const MECHANISM_IDS = keysOf(MECHANISMS);

/** The kinds of wheel a profile can declare. */
export const WHEEL_KINDS = ["colour", "fixed", "rotating", "effect"] as const;
export type WheelKind = (typeof WHEEL_KINDS)[number];

const WHEEL_MECHANISM = {
  colour: "colour-wheel",
  fixed: "fixed-gobo-wheel",
  rotating: "rotating-gobo-wheel",
  effect: "effect-wheel",
} as const satisfies Record<WheelKind, MechanismId>;

/** Where the moving parts of a function sit. The profile's kind of wheel, where it has one, overrules the usual place. */
export const mechanismOf = (id: FunctionId, wheel: WheelKind | undefined): MechanismId =>
  wheel ? WHEEL_MECHANISM[wheel] : FUNCTIONS[id].mechanism;

/**
 * What gives a fixture its light, with what people are warned of beside the usual cautions. The maker's manual and local rules
 * go before these words; common practice, no source.
 */
const LIGHT_SOURCES = {
  discharge: {
    words: "a discharge lamp",
    caution: "A lamp can burst, hot or cold: face shield and gloves before its cover comes off.",
  },
  led: { words: "LEDs", caution: "" },
  laser: {
    words: "a laser",
    caution:
      "Laser inside: behind its covers only who is trained for it, interlocks stay in force, no eye or mirror in the beam.",
  },
  ultraviolet: {
    words: "an ultraviolet source",
    caution: "Ultraviolet light harms eyes and skin unseen: rated eyewear, skin covered, nobody near the lens.",
  },
} as const;

export type LightSourceId = keyof typeof LIGHT_SOURCES;
export const LIGHT_SOURCE_IDS = keysOf(LIGHT_SOURCES);

/** What this source can do to eyes and skin, in words for the safety page. */
export const sourceCaution = (id: LightSourceId): string => LIGHT_SOURCES[id].caution;

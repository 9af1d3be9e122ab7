import { keysOf } from "../keys.ts";
/**
 * Everything on a moving light that moves or changes, spelled as a GDTF attribute (DIN SPEC 15800) for files and in
 * the words of the trade for people. `mechanism` is where its moving parts sit; a gobo wheel is told fixed from rotating
 * by the profile (see mechanismOf).
 */
export const FUNCTIONS = {
  Pan: { words: "pan", mechanism: "pan-drive" },
  Tilt: { words: "tilt", mechanism: "tilt-drive" },
  Dimmer: { words: "dimmer", mechanism: "dimmer-shutter" },
  Shutter1: { words: "shutter", mechanism: "dimmer-shutter" },
  Color1: { words: "colour wheel", mechanism: "colour-wheel" },
  Color2: { words: "colour wheel 2", mechanism: "colour-wheel" },
  ColorSub_C: { words: "cyan", mechanism: "colour-flags" },
  ColorSub_M: { words: "magenta", mechanism: "colour-flags" },
  ColorSub_Y: { words: "yellow", mechanism: "colour-flags" },
  CTO: { words: "CTO", mechanism: "colour-flags" },
  ColorAdd_R: { words: "red emitter", mechanism: "light-engine" },
  ColorAdd_G: { words: "green emitter", mechanism: "light-engine" },
  ColorAdd_B: { words: "blue emitter", mechanism: "light-engine" },
  ColorAdd_W: { words: "white emitter", mechanism: "light-engine" },
  Gobo1: { words: "gobo wheel 1", mechanism: "rotating-gobo-wheel" },
  Gobo1Pos: { words: "gobo wheel 1 rotation", mechanism: "rotating-gobo-wheel" },
  Gobo2: { words: "gobo wheel 2", mechanism: "fixed-gobo-wheel" },
  Gobo2Pos: { words: "gobo wheel 2 rotation", mechanism: "rotating-gobo-wheel" },
  AnimationWheel1: { words: "animation wheel", mechanism: "effect-wheel" },
  Prism1: { words: "prism", mechanism: "prism" },
  Prism1Pos: { words: "prism rotation", mechanism: "prism" },
  Frost1: { words: "frost", mechanism: "frost" },
  Iris: { words: "iris", mechanism: "iris" },
  Focus1: { words: "focus", mechanism: "focus" },
  Zoom: { words: "zoom", mechanism: "zoom" },
  Blade1A: { words: "blade 1A", mechanism: "framing-blades" },
  Blade1B: { words: "blade 1B", mechanism: "framing-blades" },
  Blade2A: { words: "blade 2A", mechanism: "framing-blades" },
  Blade2B: { words: "blade 2B", mechanism: "framing-blades" },
  Blade3A: { words: "blade 3A", mechanism: "framing-blades" },
  Blade3B: { words: "blade 3B", mechanism: "framing-blades" },
  Blade4A: { words: "blade 4A", mechanism: "framing-blades" },
  Blade4B: { words: "blade 4B", mechanism: "framing-blades" },
  ShaperRot: { words: "framing rotation", mechanism: "framing-blades" },
  Control1: { words: "control", mechanism: "control" },
  LampControl: { words: "lamp control", mechanism: "light-engine" },
  Fans: { words: "fans", mechanism: "cooling" },
} as const satisfies Readonly<Record<string, { readonly words: string; readonly mechanism: string }>>;

export type FunctionId = keyof typeof FUNCTIONS;
export const FUNCTION_IDS = keysOf(FUNCTIONS);

/** The functions that turn the head as a whole. */
export const AXIS_FUNCTIONS = ["Pan", "Tilt"] as const satisfies readonly FunctionId[];
/** Whether a function turns the head as a whole: pan or tilt. */
export const isAxisFunction = (id: FunctionId): boolean => AXIS_FUNCTIONS.some((axis) => axis === id);

/** A function as people read it: "pan", "colour wheel 2". */
export const functionWords = (id: FunctionId): string => FUNCTIONS[id].words;

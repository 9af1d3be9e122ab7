import { FUNCTION_IDS, type FunctionId } from "../../../domain/trade/functions.ts";

/**
 * What becomes of a GDTF attribute: it drives one of our functions, or another part of one; it makes light that no function of
 * ours has, and is kept dark; or its slot keeps the file's default, with the reason why nothing drives it.
 */
export type Fate =
  | { readonly kind: "drives"; readonly id: FunctionId; readonly role: AttributeRole }
  | { readonly kind: "kept dark"; readonly why: string }
  | { readonly kind: "held"; readonly why: string };

export type AttributeRole = "travel" | "leaf" | "strobe" | "wheel" | "index" | "turn" | "reset" | "command";

/** What becomes of an attribute as a file spells it (DIN SPEC 15800, annex A); a name that nobody standardised is held. */
export const fateOf = (written: string): Fate => {
  const name = standardName(written);
  return (
    drivenBy(name) ?? LIGHTS[name] ?? heldBecause(name) ?? { kind: "held", why: "an attribute of the maker's own" }
  );
};

/**
 * The name in annex A for what a file says. Capitals, blanks and underlines do not matter, a wheel or flag without a number is
 * the first one, and some names that are none are met so often that their meaning is plain.
 */
export const standardName = (written: string): string => {
  const key = keyOf(written);
  return KNOWN.get(key) ?? KNOWN.get(keyOf(COMMON_NAMES[key] ?? "")) ?? written;
};

const keyOf = (name: string): string => name.toLowerCase().replace(/[\s_-]+/g, "");

/** Names outside the standard, met in public files. The left side is as `keyOf` leaves it. */
const COMMON_NAMES: Readonly<Record<string, string>> = {
  dim: "Dimmer",
  intensity: "Dimmer",
  masterdimmer: "Dimmer",
  dimmer1: "Dimmer",
  hsbbrightness: "Dimmer",
  ciebrightness: "Dimmer",
  red: "ColorAdd_R",
  green: "ColorAdd_G",
  blue: "ColorAdd_B",
  white: "ColorAdd_W",
  amber: "ColorAdd_RY",
  coloradda: "ColorAdd_RY",
  colorrgbred: "ColorAdd_R",
  colorrgbgreen: "ColorAdd_G",
  colorrgbblue: "ColorAdd_B",
  colorrgbcyan: "ColorSub_C",
  colorrgbmagenta: "ColorSub_M",
  colorrgbyellow: "ColorSub_Y",
  cyan: "ColorSub_C",
  magenta: "ColorSub_M",
  yellow: "ColorSub_Y",
  shutter: "Shutter1",
  shutterstrobe: "Shutter1",
  strobe: "Shutter1Strobe",
  strobemodeshutter: "Shutter1",
  strobemodestrobe: "Shutter1Strobe",
  strobefrequency: "Shutter1Strobe",
  strobemodepulse: "Shutter1StrobePulse",
  color: "Color1",
  colour1: "Color1",
  colorwheel: "Color1",
  colorwheel1: "Color1",
  gobo: "Gobo1",
  gobowheel1: "Gobo1",
  prism: "Prism1",
  frost: "Frost1",
  focus: "Focus1",
  iris1: "Iris",
  zoom1: "Zoom",
  panrotate: "PanRotate",
  tiltrotate: "TiltRotate",
  control: "Control1",
  reset: "FixtureGlobalReset",
  allreset: "FixtureGlobalReset",
  resetall: "FixtureGlobalReset",
  lampon: "LampControl",
  lampoff: "LampControl",
  lamp: "LampControl",
  fan: "Fans",
  cct: "CTC",
  colortint: "Tint",
  greenadjust: "Tint",
};

/** Names of annex A that are parts of our functions, beside those that our functions are named by. */
const FURTHER: Readonly<Record<string, Extract<Fate, { kind: "drives" }>>> = {
  Shutter1Strobe: { kind: "drives", id: "Shutter1", role: "strobe" },
  Gobo1PosRotate: { kind: "drives", id: "Gobo1Pos", role: "turn" },
  Gobo2PosRotate: { kind: "drives", id: "Gobo2Pos", role: "turn" },
  Prism1PosRotate: { kind: "drives", id: "Prism1Pos", role: "turn" },
  AnimationWheel1PosRotate: { kind: "drives", id: "AnimationWheel1", role: "turn" },
  FixtureGlobalReset: { kind: "drives", id: "Control1", role: "reset" },
};

const drivenBy = (name: string): Fate | undefined => {
  const further = FURTHER[name];
  if (further) return further;
  const id = FUNCTION_IDS.find((known) => known === name);
  return id && { kind: "drives", id, role: ROLES[id] ?? "travel" };
};

const ROLES: Readonly<Partial<Record<FunctionId, AttributeRole>>> = {
  Shutter1: "leaf",
  Prism1: "leaf",
  Frost1: "leaf",
  Color1: "wheel",
  Color2: "wheel",
  Gobo1: "wheel",
  Gobo2: "wheel",
  AnimationWheel1: "wheel",
  Gobo1Pos: "index",
  Gobo2Pos: "index",
  Prism1Pos: "index",
  Control1: "command",
  LampControl: "command",
  Fans: "command",
};

const dark = (why: string): Fate => ({ kind: "kept dark", why });

/** Emitters that no function of ours is. At 0 they give no light, and do not colour what is judged. */
const LIGHTS: Readonly<Record<string, Fate>> = Object.fromEntries(
  ["R", "G", "B", "C", "M", "Y", "RY", "GY", "GC", "BC", "BM", "RM", "W", "WW", "CW", "UV"].map((colour) => [
    `ColorAdd_${colour}`,
    dark("an emitter that Limber does not drive"),
  ]),
);

/** Why an attribute of the standard keeps its default; "(n)" is any number. The first that fits counts. */
const HELD: readonly (readonly [why: string, names: readonly RegExp[]])[] = [
  ["no function, the file says", [/^(NoFeature|Dummy)$/]],
  [
    "the speed of a movement: the profile's times are measured with it",
    [/MSpeed$/, /^(StrobeDuration|StrobeRate|ReflectorAdjust)$/],
  ],
  [
    "a choice of how the fixture behaves",
    [
      /Mode$/,
      /Modes$/,
      /^(DimmerCurve|LEDFrequency|DMXInput|DisplayIntensity|Function|WhiteCount|UVStability|WavelengthCorrection|ColorConsistency|ColorControl|ColorUniformity|CustomColor|EffectsSync|PixelMode)$/,
      /^(StrobeMode|ZoomMode)/,
    ],
  ],
  ["the reset of one part, or of settings", [/Reset$/]],
  ["movement without an end: Limber drives pan and tilt between two ends", [/^(Pan|Tilt)Rotate$/]],
  [
    "an effect that runs by itself",
    [
      /^(PositionEffect|ColorEffects|ColorMacro|Effects|EffectsSync|ShaperMacros|BeamShaperMacro|AnimationSystem|VideoEffect)/,
      /(Macro|Audio|Random|SelectEffects)$/,
    ],
  ],
  [
    "spins, shakes or scrolls by itself",
    [/(SelectSpin|SelectShake|WheelSpin|WheelShake|WheelIndex|PosShake|Shake|Ramp|PulseOpen|PulseClose|Strobe\w*)$/],
  ],
  ["a colour that is told otherwise than by its parts", [/^(HSB|CIE|ColorRGB)_/]],
  ["a correction of white that Limber does not drive", [/^(CTC|CTB|Tint)$/, /^ColorSub_[RGB]$/]],
  [
    "a further part of a kind of which Limber drives the first",
    [/^(Color|Gobo|Prism|Frost|Focus|AnimationWheel|Shutter|Control|Fan)\d+/, /^Blade\d+[AB]$/],
  ],
  ["a soft edge or picture shape that Limber does not drive", [/^(Blade\d+Rot|BladeSoft|KeyStone|BeamShaper)/]],
  ["a place in space or a size of a picture", [/^(XYZ|Rot|Scale)_/, /^(DigitalZoom|FieldOfView)$/]],
  ["pictures, video or sound", [/^(Media|Model|Play|Video|InputSource)/]],
  ["fog, haze or air", [/^(Blower|Fog|Haze|Fan)\d*/]],
];

const heldBecause = (name: string): Fate | undefined => {
  const found = HELD.find(([, names]) => names.some((pattern) => pattern.test(name)));
  return found && { kind: "held", why: found[0] };
};

/** Every name of annex A with its family number left as 1 and 2, so that spelling can be forgiven. */
const NUMBERED =
  "Gobo,GoboSelectSpin,GoboSelectShake,GoboSelectEffects,GoboWheelIndex,GoboWheelSpin,GoboWheelShake,GoboWheelRandom,GoboWheelAudio,GoboPos,GoboPosRotate,GoboPosShake,GoboWheelMode,AnimationWheel,AnimationWheelPos,AnimationWheelPosRotate,AnimationWheelMode,Color,ColorWheelIndex,ColorWheelSpin,ColorWheelRandom,ColorWheelAudio,ColorMode,Shutter,ShutterStrobe,ShutterStrobePulse,ShutterStrobePulseClose,ShutterStrobePulseOpen,ShutterStrobeRandom,ShutterStrobeRandomPulse,ShutterStrobeEffect,Frost,FrostPulseOpen,FrostPulseClose,FrostRamp,Prism,PrismSelectSpin,PrismMacro,PrismPos,PrismPosRotate,Focus,FocusAdjust,FocusDistance,Control,BladeA,BladeB,BladeRot,ColorMacro".split(
    ",",
  );
const FAMILIES = [
  "AnimationWheel",
  "Gobo",
  "ColorMacro",
  "Color",
  "Shutter",
  "Frost",
  "Prism",
  "Focus",
  "Control",
  "Blade",
];

const PLAIN =
  "Dimmer,Pan,Tilt,PanRotate,TiltRotate,Iris,Zoom,CTO,CTC,CTB,Tint,ShaperRot,ShaperMacros,FixtureGlobalReset,LampControl,Fans,Function,NoFeature,ColorAdd_R,ColorAdd_G,ColorAdd_B,ColorAdd_W,ColorAdd_RY,ColorAdd_GY,ColorAdd_WW,ColorAdd_CW,ColorAdd_UV,ColorSub_C,ColorSub_M,ColorSub_Y".split(
    ",",
  );

const numbered = (name: string, n: number): string => {
  const family = FAMILIES.find((one) => name.startsWith(one)) ?? name;
  return `${family}${n}${name.slice(family.length)}`;
};

const KNOWN: ReadonlyMap<string, string> = new Map(
  [...PLAIN, ...[1, 2, 3, 4].flatMap((n) => NUMBERED.map((name) => numbered(name, n)))].map((name) => [
    keyOf(name),
    name,
  ]),
);

import type { FunctionId } from "../../domain/trade/functions.ts";
import type { InspectionId } from "../../domain/trade/inspections.ts";
import { chanceFrom } from "../chance.ts";
import { type FrameMoment, stanceIn } from "../moment.ts";
import { Hooks, type MoverTrouble, type PartTrouble } from "../trouble.ts";

/**
 * The inspections that come out bad on what is physically set: parts are turned by hand, cold and without mains, and what
 * lies open to the eye is seen. Written from the parts themselves; no number of the fault model is asked.
 */
export const foundByHand = (ids: readonly string[], troubles: readonly PartTrouble[]): ReadonlySet<InspectionId> =>
  new Set([...felt(troubles), ...ids.flatMap((id) => IN_SIGHT[id] ?? [])]);

/** Which look it is to turn this function by hand; what cannot be turned without its motor has none. */
const TURNED_BY_HAND: Readonly<Partial<Record<FunctionId, InspectionId>>> = {
  Pan: "pan-by-hand",
  Tilt: "tilt-by-hand",
  Color1: "colour-wheel-by-hand",
  Gobo1: "gobo-wheel-by-hand",
  Gobo2: "fixed-gobos-by-hand",
  AnimationWheel1: "effect-wheel-by-hand",
  Gobo1Pos: "gobos-by-hand",
  Prism1: "prism-by-hand",
  Prism1Pos: "prism-bearing",
  Frost1: "frost-by-hand",
  Shutter1: "shutter-by-hand",
  Iris: "iris-by-hand",
  Zoom: "zoom-by-hand",
  Focus1: "focus-by-hand",
  ColorSub_C: "flags-by-hand",
  ColorSub_M: "flags-by-hand",
  ColorSub_Y: "flags-by-hand",
  CTO: "flags-by-hand",
  ShaperRot: "blades-turn",
};

const felt = (troubles: readonly PartTrouble[]): readonly InspectionId[] => {
  const movers = troubles.filter((trouble) => trouble.kind === "mover");
  return [...new Set(movers.map((trouble) => trouble.function))].flatMap((id) => {
    const look = id.startsWith("Blade") ? "blades-by-hand" : TURNED_BY_HAND[id];
    return look && isRough(movers.filter((one) => one.function === id)) ? [look] : [];
  });
};

/** Less than this a finger does not tell from the grease. Judgement. */
const FELT = 0.3;
const PLACES = 60;

/** Held anywhere on its way, either way, or stopped before an end. */
const isRough = (troubles: readonly MoverTrouble[]): boolean => {
  const hooks = new Hooks(troubles);
  const stops = hooks.low > 0.02 || hooks.high < 0.98;
  const holds = Array.from({ length: PLACES + 1 }, (_, n) => n / PLACES).some((at) =>
    ([1, -1] as const).some((way) => hooks.drag(stanceIn(ON_THE_TABLE, at, way, 0.05)) >= FELT),
  );
  return stops || holds;
};

const ON_THE_TABLE: FrameMoment = {
  frame: 0,
  time_s: 0,
  warmth: 0,
  upright: 0,
  pan_deg: 0,
  tilt_deg: 0,
  jolt: 0,
  busy: 0,
  homing: false,
  chance: chanceFrom(1),
};

const DEAD_STAGE: readonly InspectionId[] = ["driver-marks", "plug-swap"];
const OPEN_WINDING: readonly InspectionId[] = ["motor-windings"];

/** What the eye finds of each fault, with the cover off that hides it. */
const IN_SIGHT: Readonly<Record<string, readonly InspectionId[]>> = {
  "tilt-drive-slack": ["tilt-belt-tension"],
  "pan-drive-slack": ["pan-belt-tension"],
  "tilt-pulls-hard-one-way": ["loom-run"],
  "pan-pulls-hard-one-way": ["loom-run"],
  "pan-disc-dusty": ["pan-encoder-gap"],
  "tilt-disc-scratched": ["tilt-encoder-marks"],
  "tilt-winding-open": OPEN_WINDING,
  "focus-winding-open": OPEN_WINDING,
  "pan-output-burnt": DEAD_STAGE,
  "magenta-output-burnt": DEAD_STAGE,
  "zoom-output-burnt": DEAD_STAGE,
  "effect-wheel-output-burnt": DEAD_STAGE,
  "arm-bolts-undone": ["arm-play"],
  "pan-stop-pushed-in": ["pan-stop"],
  "tilt-stop-pushed-in": ["tilt-stop"],
  "colour-sensor-shifted": ["colour-wheel-magnet"],
  "colour-magnet-faint": ["colour-wheel-magnet"],
  "colour-hub-slips": ["colour-wheel-hub"],
  "fixed-gobo-sensor-one-off": ["fixed-gobos-magnet"],
  "fixed-gobo-hub-slips": ["fixed-gobos-hub"],
  "fixed-gobo-tipped": ["fixed-gobos-seat"],
  "rotating-wheel-magnet-loose": ["gobo-wheel-magnet"],
  "rotating-wheel-hub-creeps": ["gobo-wheel-hub"],
  "colour-glass-unclipped": ["filters"],
  "gobo-spring-sprung": ["gobo-springs"],
  "gobo-teeth-worn": ["gobo-gears"],
  "gobo-drive-gritty": ["gobo-gears"],
  "cyan-flag-binds-hot": ["flag-edges"],
  "cyan-sensor-filings": ["filings"],
  "magenta-flag-scorched": ["flag-glass"],
  "yellow-flag-fouled": ["flag-glass"],
  "yellow-flag-slack-on-shaft": ["flag-screws"],
  "warm-filter-arm-bent": ["flag-edges"],
  "zoom-belt-stretched": ["zoom-belt"],
  "zoom-rod-bent": ["zoom-rod"],
  "zoom-bushings-tight-hot": ["zoom-rod"],
  "focus-rod-bent": ["focus-rod"],
  "focus-pinion-undone": ["focus-belt"],
  "iris-leaf-binds-hot": ["iris-leaves"],
  "iris-leaf-kinked": ["iris-leaves"],
  "iris-lever-slack": ["iris-lever"],
  "prism-spring-gone": ["prism-spring"],
  "prism-corner-chipped": ["prism-glass"],
  "frost-glass-warped": ["frost-flat"],
  "frost-arm-undone": ["frost-arm"],
  "shutter-blade-gummed": ["shutter-by-hand"],
  "shutter-blade-warped": ["shutter-flat"],
  "shutter-buffer-gone": ["shutter-bumper"],
  "blade-drive-slips": ["blades-by-hand"],
  "pan-pulley-slips": ["pan-pulley-screw"],
  "tilt-pulley-slips": ["tilt-pulley-screw"],
  "pan-idler-out-of-true": ["pan-tension-wheel", "pan-belt-edges"],
  "tilt-idler-out-of-true": ["tilt-tension-wheel", "tilt-belt-edges"],
  "tilt-lock-left-on": ["transport-locks"],
  "lamp-run-out": ["menu-hours", "lamp"],
  "led-aged": ["menu-hours"],
  "led-string-open": ["lamp"],
  "lamp-sits-askew": ["lamp"],
  "source-lead-loose": ["lamp-contacts"],
  "ballast-faint": ["driver-swap"],
  "lenses-grimy": ["front-lens", "inner-lenses"],
  "fluid-film-inside": ["inner-lenses", "light-pipe"],
  "front-lens-chipped": ["front-lens"],
  "inner-lens-unseated": ["lens-seats"],
  "supply-sags": ["supply-swap"],
  "capacitor-swollen": ["capacitors"],
  "base-link-loose": ["power-links"],
  "cord-core-broken": ["plug-and-cord"],
  "screw-in-the-base": ["loose-screws", "gentle-rock"],
  "head-screw-loose": ["head-screws", "gentle-rock"],
  "head-plug-half-out": ["head-plugs"],
  "loom-nearly-through": ["loom-run"],
  "yoke-joint-burnt": ["yoke-wires"],
  "input-pins-loose": ["data-sockets", "plug-touch"],
  "fan-bearing-worn": ["fans-by-finger"],
  "fan-lead-torn": ["fan-leads"],
  "filter-felted": ["dust-filters"],
  "heat-sensor-adrift": ["thermal-sensor"],
  "menu-pan-reversed": ["menu-settings"],
  "menu-tilt-reversed": ["menu-settings"],
  "menu-axes-swapped": ["menu-settings"],
  "menu-range-cut": ["menu-settings"],
  "menu-other-mode": ["menu-address"],
  "address-off": ["menu-address"],
};

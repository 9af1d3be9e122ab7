import type { FunctionId } from "../../domain/trade/functions.ts";
import type { MechanismId } from "../../domain/trade/mechanisms.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { Seconds } from "../../domain/units.ts";
import type { Fitted } from "./places.ts";

/** A driven routine that could be run next, on one function or, without one, on the fixture as a whole. */
export interface Probe {
  readonly routine: RoutineId;
  readonly function: FunctionId | undefined;
  readonly fitted: readonly Fitted[];
  readonly seconds: Seconds;
}

/** About how long a routine is watched. Starter values, judgement; the timeline knows better once it is compiled. */
const SECONDS = {
  sweep: 10,
  snap: 6,
  backlash: 12,
  hold: 10,
  shake: 6,
  "step-through": 12,
  rotate: 12,
  "in-and-out": 8,
  home: 45,
  soak: 1200,
} as const satisfies Partial<Record<RoutineId, Seconds>>;
type ProbeRoutine = keyof typeof SECONDS;

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

/** Every test without opening that this fixture could play, of one function or of the whole, with the seconds it takes. */
export const probesFor = (fitted: readonly Fitted[]): readonly Probe[] => [
  ...fitted.flatMap((one) =>
    routinesOf(one).map((routine) => ({ routine, function: one.function, fitted: [one], seconds: SECONDS[routine] })),
  ),
  ...(["home", "soak"] as const).map((routine) => ({
    routine,
    function: undefined,
    fitted,
    seconds: SECONDS[routine],
  })),
];

const routinesOf = ({ function: id, mechanism }: Fitted): readonly ProbeRoutine[] =>
  id.endsWith("Pos") ? ["rotate"] : (ROUTINES[mechanism] ?? []);

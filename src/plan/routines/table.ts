import type { RoutineId } from "../../domain/trade/routines.ts";
import { hold, inAndOut, sideBySide } from "./beam.ts";
import type { Routine } from "./task.ts";
import { backlash, shake, shortSweep, snap, stopwatch, sweep } from "./travel.ts";
import { rotate, stepThrough } from "./wheels.ts";
import { comeBack, home, identify, powerUp, selfTest, soak } from "./whole.ts";

/** Every driven routine and how it is played. */
export const PLAYS: Readonly<Record<RoutineId, Routine>> = {
  identify,
  "power-up": powerUp,
  home,
  sweep,
  "short-sweep": shortSweep,
  stopwatch,
  "step-through": stepThrough,
  rotate,
  "in-and-out": inAndOut,
  backlash,
  snap,
  shake,
  "side-by-side": sideBySide,
  hold,
  soak,
  return: comeBack,
  "self-test": selfTest,
};

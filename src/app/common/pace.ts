import { frameClock } from "../../io/clock/frame-clock.ts";
import { fastClock, frameByFrame } from "../../io/clock/simulated-clocks.ts";
import type { Clock, DiagnosisDoor, Log } from "../../run/ports.ts";
import { diagnosedHere, diagnosisThread } from "../../run/shell/diagnosis-thread.ts";

/** How a run passes its time: its clock, and where a diagnosis is worked out meanwhile. */
export interface Pace {
  readonly clock: (busy: () => boolean) => Clock;
  readonly diagnosis: DiagnosisDoor;
}

/** Faster than real time, with nobody at the terminal. */
export const FAST: Pace = { clock: fastClock, diagnosis: diagnosedHere };

/** In real time; where every fixture is simulated, their time stands still whenever the computer does. */
export const realTime = (fixtures: "all simulated" | "real", log: Log): Pace => ({
  clock: () => (fixtures === "real" ? frameClock() : frameByFrame(frameClock())),
  diagnosis: diagnosisThread(undefined, log.note),
});

import type { Bench } from "../data/bench/bench.ts";
import { type Frame, framesIn, type Seconds } from "../domain/units.ts";
import type { RawValues } from "./base.ts";
import { beamRaw } from "./base.ts";
import type { Task } from "./routines/task.ts";
import type { Move } from "./timeline.ts";

/** Moves before the step proper, and the frames they take. */
export interface OpeningMoves {
  readonly moves: readonly Move[];
  readonly frames: Frame;
}

/**
 * How long the beam is shut between two steps at least, so that the change of picture is not taken for a fault; longer
 * where the shut beam is the sign that a step begins.
 */
export const shutBetween = ({ announce }: Bench): Seconds => (announce === "fixture" ? 1 : 0.5);

/** After the beam opens, before anything moves: the eye has to arrive. */
const SETTLE_S: Seconds = 0.25;
/** One slow dip, far from any flash rate that could hurt. */
const DIP_S: Seconds = 1;

/**
 * The moves that open the beam; on a bench where the fixture itself announces, one slow dip of its light says "watch now".
 */
export const openBeam = (task: Task, start: RawValues, base: RawValues, at: Frame): OpeningMoves => {
  const moves = openingMoves(task, start, base, at);
  const settled = at + framesIn(SETTLE_S);
  const dip = task.bench.announce === "fixture" ? dipMoves(task, base, settled) : [];
  return { moves: [...moves, ...dip], frames: framesIn(SETTLE_S) + (dip.length > 0 ? framesIn(DIP_S) : 0) };
};

const openingMoves = ({ profile, functions }: Task, start: RawValues, base: RawValues, at: Frame): readonly Move[] => {
  const opens = new Map([
    ...beamRaw(profile, "shut").map(([id]) => [id, base.get(id) ?? 0] as const),
    ...beamRaw(profile, "open"),
  ]);
  return [...opens]
    .filter(([id, to]) => !functions.includes(id) && start.get(id) !== to)
    .map(([id, to]) => ({ function: id, from: start.get(id) ?? 0, to, start: at, frames: 0 }));
};

/** Only with a dimmer, and not where the dimmer or the shutter is what is being judged. */
const dipMoves = ({ profile, functions }: Task, base: RawValues, at: Frame): readonly Move[] => {
  const level = base.get("Dimmer");
  const judged = functions.includes("Dimmer") || functions.includes("Shutter1");
  if (level === undefined || level === 0 || judged || profile.functions.get("Dimmer")?.kind !== "travel") return [];
  const half = framesIn(DIP_S / 2);
  return [
    { function: "Dimmer", from: level, to: 0, start: at, frames: half },
    { function: "Dimmer", from: 0, to: level, start: at + half, frames: half },
  ];
};

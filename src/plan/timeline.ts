import type { Profile, Raw } from "../data/profile/profile.ts";
import type { FunctionId } from "../domain/trade/functions.ts";
import type { RoutineId } from "../domain/trade/routines.ts";
import { type Frame, type Seconds, secondsOf } from "../domain/units.ts";

/** One straight movement of one function. It stands at `from` in frame `start` and at `to` in frame `start + frames`, exactly. */
export interface Move {
  readonly function: FunctionId;
  readonly from: Raw;
  readonly to: Raw;
  readonly start: Frame;
  /** 0 is a jump. */
  readonly frames: Frame;
}

/** A step of a sequence, worked out for one profile on one bench: what is sent in every frame, and what to watch for. */
export interface CompiledStep {
  readonly id: string;
  readonly routine: RoutineId;
  /** Empty: the fixture as a whole. */
  readonly functions: readonly FunctionId[];
  /** False when the fixture lacks the function: then there are no frames. */
  readonly fitted: boolean;
  readonly watch: string;
  readonly frames: Frame;
  /** Until here the beam is shut and everything goes to its starting place; presses belong to the step before. */
  readonly leadIn: Frame;
  /** Raw values at frame 0, of every function. */
  readonly start: ReadonlyMap<FunctionId, Raw>;
  /** In the order of their start; a later move of the same function takes over. */
  readonly moves: readonly Move[];
  readonly beam: "open" | "shut";
  /** The most flashes in any one second that it would make in view. With too many it is played dark; where that cannot be, it is not fitted. */
  readonly flashes: number;
  readonly notes: readonly string[];
  /** The least time in which the fixture could make these movements, without dwelling. */
  readonly floor: Seconds;
  /** 1 is the sequence's own speed, 0.5 half of it. */
  readonly pace: number;
  /** Line of the sequence file. */
  readonly line: number;
}

/** A whole sequence for one fixture: readonly, and the same for the same inputs. */
export interface Timeline {
  readonly profile: Profile;
  readonly sequence: string;
  readonly steps: readonly CompiledStep[];
}

/** What a sequence will cost before anything moves. */
export interface Plan {
  readonly steps: readonly PlannedStep[];
  readonly total: Seconds;
  /** With eyes on the fixture: everything but homing and soaking. */
  readonly watched: Seconds;
  /** What the fixture's own speed allows at best, without dwelling. */
  readonly floor: Seconds;
}

export interface PlannedStep {
  readonly step: CompiledStep;
  readonly start: Seconds;
  readonly length: Seconds;
  readonly watched: Seconds;
}

const UNWATCHED: readonly string[] = ["soak"];

/** When each step of a timeline begins, how long it lasts and how much of that is watched, in seconds. */
export const planOf = ({ steps }: Timeline): Plan => {
  let start: Seconds = 0;
  const planned = steps.map((step) => {
    const length = secondsOf(step.frames);
    const entry = { step, start, length, watched: UNWATCHED.includes(step.routine) ? 0 : length };
    start += length;
    return entry;
  });
  return {
    steps: planned,
    total: start,
    watched: planned.reduce((sum, { watched }) => sum + watched, 0),
    floor: steps.reduce((sum, { floor }) => sum + floor, 0),
  };
};

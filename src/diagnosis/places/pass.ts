import { type Profile, physicalOf, travelOf } from "../../data/profile/profile.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import { type Frame, type Seconds, secondsOf } from "../../domain/units.ts";
import type { CompiledStep } from "../../plan/timeline.ts";

/** The way of a movement: up is towards the high end, where the DMX value is highest. */
export type TravelWay = "up" | "down";

/** One movement of a function at constant speed, as commanded. Times are seconds since frame 0 of its step. */
export interface Pass {
  readonly way: TravelWay;
  readonly begin: Seconds;
  readonly end: Seconds;
  /** Where it begins, in the function's own unit, degrees or per cent. */
  readonly from: number;
  readonly to: number;
  /** A second, signed as the place in its unit rises or falls. */
  readonly velocity: number;
}

/** Shorter than this nobody can say where in a movement something was. Judgement. */
const SHORTEST: Frame = 20;

/** Every movement at constant speed of one function in a step, in order. Jumps are none: the fixture makes those at its own speed. */
export const passesOf = (profile: Profile, step: CompiledStep, id: FunctionId): readonly Pass[] => {
  const travel = travelOf(profile, id);
  if (!travel) return [];
  return step.moves
    .filter((move) => move.function === id && move.frames >= SHORTEST && move.start >= step.leadIn)
    .map(({ from, to, start, frames }) => {
      const [here, there] = [physicalOf(travel, from), physicalOf(travel, to)];
      const length = secondsOf(frames);
      return {
        way: to > from ? "up" : "down",
        begin: secondsOf(start),
        end: secondsOf(start) + length,
        from: here,
        to: there,
        velocity: (there - here) / length,
      };
    });
};

/**
 * Where a pass is, or would be if it had gone on at its speed, in the travel's unit: a press late
 * on a pass comes after its turn-round.
 */
export const placeOn = ({ begin, from, velocity }: Pass, time: Seconds): number => from + velocity * (time - begin);

/**
 * When a pass is commanded through a place; undefined when it does not come there. `place` is in
 * the travel's unit, degrees or per cent.
 */
export const crossingOf = ({ begin, end, from, velocity }: Pass, place: number): Seconds | undefined => {
  const time = begin + (place - from) / velocity;
  return time >= begin && time <= end ? time : undefined;
};

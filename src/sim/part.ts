import type { FunctionId } from "../domain/trade/functions.ts";
import type { Limits } from "./follower.ts";
import type { FrameMoment } from "./moment.ts";
import type { Motor } from "./motor.ts";
import type { PartScene, Sounds } from "./scene.ts";

/** One part of the simulated fixture, advanced once a frame. */
export interface SimPart {
  readonly function: FunctionId;
  /** Takes in the `levels` of its own slots, 0 to 255 each, coarse first. */
  obey(levels: readonly number[], moment: FrameMoment): void;
  /** Undefined for a part that has nothing to find. */
  beginHoming(moment: FrameMoment): Homing | undefined;
  show(): PartScene;
}

/** How one copy of a fixture differs from the drawing without being broken. */
export interface Making {
  /** Factor on speeds, near 1. */
  readonly pace: number;
  /** How far beside the true place home is found, as a share of what the eye would notice. */
  readonly shift: number;
  /** How much later it answers when it goes up than when it goes down; below 0 the other way round. Seconds. */
  readonly laterUp_s: number;
  /** Noises that mean nothing, each just below what can be heard by itself. */
  readonly noise: Partial<Sounds>;
}

/** Exactly as the drawing says. */
export const AS_DRAWN: Making = { pace: 1, shift: 0, laterUp_s: 0, noise: {} };
/**
 * The whole number that the bytes spell, coarse first, as a share of the highest, 0 to 1: exact for one to
 * four bytes. `levels` are 0 to 255 each.
 */
export const levelShare = (levels: readonly number[]): number => {
  const raw = levels.reduce((value, level) => value * 256 + level, 0);
  return levels.length === 0 ? 0 : raw / (256 ** levels.length - 1);
};

/**
 * The coarse level with the fine bytes behind the point, 0 to below 256: where in a band the
 * demand stands. `levels` are 0 to 255 each.
 */
export const levelOf = (levels: readonly number[]): number =>
  levels.reduce((value, level, n) => value + level / 256 ** n, 0);

/**
 * Where a level stands between the ends of a band, 0 to 1; the fine bytes of the last level still belong to it.
 * `from` and `to` are levels, 0 to 255.
 */
export const within = (level: number, band: { readonly from: number; readonly to: number }): number =>
  band.to === band.from ? 0 : Math.min(1, (level - band.from) / (band.to - band.from));

/**
 * The band that a level stands in; undefined where none covers it. The fine bytes of a
 * band's last level still belong to it.
 */
export const bandAt = <B extends { readonly from: number; readonly to: number }>(
  bands: readonly B[],
  level: number,
): B | undefined => bands.find(({ from, to }) => level >= from && level < to + 1);

/** The share of the homing time that one search takes. */
export const HOMING_SEARCH = 0.35;
const MOST_TRIES = 3;

export interface HomePlace {
  /** Where the sensor is, and where the part rests until it is told otherwise. */
  readonly sensor: number;
  readonly rest: number;
  /** How far a search swings past the sensor; a whole turn for a wheel. */
  readonly swing: number;
  readonly limits: Limits;
  /** Without a sensor the electronics never notice that nothing moved. */
  readonly sensed: boolean;
}

/** One homing of one part: searches, takes the sensor for its zero, goes to rest. */
export class Homing {
  readonly tries: number;
  readonly failed: boolean;
  private readonly shift: number;
  private found = false;
  private readonly motor: Motor;
  private readonly place: HomePlace;

  constructor(motor: Motor, place: HomePlace, moment: FrameMoment) {
    this.motor = motor;
    this.place = place;
    const stance = motor.stance(moment, 0);
    const wanted = motor.hooks.tries(stance);
    const unseen = place.sensed && motor.hooks.drive(stance) !== "alive";
    this.failed = unseen || wanted > MOST_TRIES;
    this.tries = this.failed ? MOST_TRIES : wanted;
    this.shift = motor.hooks.homeShift(stance);
  }

  /**
   * Plays one frame of the search. `elapsed` is the time since it began as a share of the usual homing time,
   * from 0; a second try takes it above 1.
   */
  advance(elapsed: number, moment: FrameMoment): void {
    const { motor, place } = this;
    if (elapsed < HOMING_SEARCH * this.tries) {
      this.search(elapsed / HOMING_SEARCH, moment);
      return;
    }
    if (!this.found) motor.zero(place.sensor);
    this.found = true;
    motor.towards(place.rest, moment, place.limits);
  }

  /** Away from the sensor and back to it; a try that did not find it goes on past. */
  private search(tried: number, moment: FrameMoment): void {
    const { motor, place } = this;
    const within = tried % 1;
    const last = Math.floor(tried) === this.tries - 1;
    const away = within < 0.4 ? place.swing : last ? this.shift : -place.swing;
    motor.towards(place.sensor + away - motor.astray, moment, place.limits);
  }
}

import type { Limits } from "./follower.ts";
import type { FrameMoment } from "./moment.ts";
import type { Motor } from "./motor.ts";

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

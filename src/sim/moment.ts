import type { Degrees, Frame, Seconds } from "../domain/units.ts";
import type { SimDraw } from "./chance.ts";

/** What every part of the fixture feels in one frame. */
export interface FrameMoment {
  readonly frame: Frame;
  readonly time_s: Seconds;
  /** 0 cold, 1 as hot as it gets. */
  readonly warmth: number;
  /** Pull of gravity along the beam: 1 with the lens straight up, -1 straight down. */
  readonly upright: number;
  readonly pan_deg: Degrees;
  readonly tilt_deg: Degrees;
  /** How hard pan and tilt jolt the head, 1 for a full stop from full speed. */
  readonly jolt: number;
  /** How many parts are moving. */
  readonly busy: number;
  readonly homing: boolean;
  readonly chance: SimDraw;
}

/** What one moving part feels. `at` and `speed` are its own: share of travel or turns; speed as a share of its full speed. */
export interface Stance extends FrameMoment {
  readonly at: number;
  readonly way: -1 | 0 | 1;
  readonly speed: number;
}

/** What the source of light feels. */
export interface SourceMoment extends FrameMoment {
  readonly lit_s: Seconds;
}

/**
 * What the source of light feels in this frame. The fields are copied one by one because spreading
 * the moment costs twenty times as much.
 */
export const litIn = (moment: FrameMoment, lit_s: Seconds): SourceMoment => ({
  frame: moment.frame,
  time_s: moment.time_s,
  warmth: moment.warmth,
  upright: moment.upright,
  pan_deg: moment.pan_deg,
  tilt_deg: moment.tilt_deg,
  jolt: moment.jolt,
  busy: moment.busy,
  homing: moment.homing,
  chance: moment.chance,
  lit_s,
});

/**
 * What one moving part feels in this frame. `at` is in the part's own measure (share of its travel, 0 to 1, or turns) and
 * `speed` a share of its full speed, 0 to 1. The fields are copied one by one: it is made for every motor in every frame,
 * and spreading the moment costs twenty times as much.
 */
export const stanceIn = (moment: FrameMoment, at: number, way: Stance["way"], speed: number): Stance => ({
  frame: moment.frame,
  time_s: moment.time_s,
  warmth: moment.warmth,
  upright: moment.upright,
  pan_deg: moment.pan_deg,
  tilt_deg: moment.tilt_deg,
  jolt: moment.jolt,
  busy: moment.busy,
  homing: moment.homing,
  chance: moment.chance,
  at,
  way,
  speed,
});

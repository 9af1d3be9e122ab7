import { FRAME_SECONDS, type Frame, framesIn, type Seconds } from "../domain/units.ts";

/** Where something is and how fast it goes, per second. */
export interface Motion {
  readonly at: number;
  readonly speed: number;
}

export interface Limits {
  readonly speed: number;
  readonly acceleration: number;
}

/**
 * Moves one frame nearer to the target, never faster than the limits and never past it; ends exactly on it. `target` is in
 * the measure of the motion: share of travel, degrees or turns.
 */
export const follow = ({ at, speed }: Motion, target: number, limits: Limits): Motion => {
  const way = target - at;
  const gain = limits.acceleration * FRAME_SECONDS;
  if (Math.abs(way) <= gain * FRAME_SECONDS && Math.abs(speed) <= gain) return { at: target, speed: 0 };
  const wanted =
    Math.sign(way) * Math.min(limits.speed, stoppable(Math.abs(way), limits), Math.abs(way) / FRAME_SECONDS);
  const next = speed + clamp(wanted - speed, -gain, gain);
  const past = Math.abs(next) * FRAME_SECONDS - Math.abs(way);
  if (next * way > 0 && past > 0 && past < gain * FRAME_SECONDS) return { at: target, speed: 0 };
  return { at: at + next * FRAME_SECONDS, speed: next };
};

/**
 * Brings the speed one frame nearer to what is wanted, within the limits. `wanted` is in
 * the measure of the motion per second.
 */
export const turn = ({ at, speed }: Motion, wanted: number, limits: Limits): Motion => {
  const gain = limits.acceleration * FRAME_SECONDS;
  const next = speed + clamp(wanted - speed, -gain, gain);
  return { at: at + next * FRAME_SECONDS, speed: next };
};

/**
 * The limits of something that covers `distance`, in its own measure (share of travel, degrees or turns), in `time_s`
 * seconds, `acceleration_s` seconds of which go into speeding up, and as many into slowing down.
 */
export const limitsFor = (distance: number, time_s: number, acceleration_s: number): Limits => {
  const gaining = Math.max(FRAME_SECONDS, Math.min(acceleration_s, time_s / 2));
  const speed = distance / Math.max(FRAME_SECONDS, time_s - gaining);
  return { speed, acceleration: speed / gaining };
};

/** The number nearest to `value` from `low` to `high`, all in one unit. */
export const clamp = (value: number, low: number, high: number): number => Math.min(high, Math.max(low, value));

/** The highest speed from which one can still stop in this distance, in whole frames. */
const stoppable = (distance: number, { acceleration }: Limits): number => {
  const gain = acceleration * FRAME_SECONDS;
  return gain * (Math.sqrt(0.25 + (2 * distance) / (gain * FRAME_SECONDS)) - 0.5);
};

/** Hands on what it was given a fixed time ago; before that, what it was given first. */
export class Delay<T> {
  private readonly held: T[] = [];
  readonly frames: Frame;
  constructor(time: Seconds) {
    this.frames = framesIn(time);
  }

  /** Takes this frame's value and gives the one that comes out in this frame. */
  pass(value: T): T {
    this.held.push(value);
    return this.held.length > this.frames ? (this.held.shift() ?? value) : (this.held[0] ?? value);
  }
}

/**
 * A delay with a time of its own for rising and for falling values, which come out in their order: what waits longer is
 * caught up with afterwards, two values a frame.
 */
export class LagByDirection {
  private readonly held: { readonly value: number; readonly due: Frame }[] = [];
  private readonly rising: Frame;
  private readonly falling: Frame;
  private now: Frame = 0;
  private last: number | undefined;
  private given: number | undefined;

  constructor(rising: Seconds, falling: Seconds) {
    this.rising = framesIn(rising);
    this.falling = framesIn(falling);
  }

  /** Takes this frame's `value`, in any one unit, and gives the one that comes out in this frame, in the same unit. */
  pass(value: number): number {
    const before = this.last ?? value;
    const lag = value > before ? this.rising : value < before ? this.falling : Math.min(this.rising, this.falling);
    this.held.push({ value, due: Math.max(this.now + lag, this.held.at(-1)?.due ?? 0) });
    this.last = value;
    for (let taken = 0; taken < CAUGHT_UP && (this.held[0]?.due ?? Number.POSITIVE_INFINITY) <= this.now; taken++)
      this.given = this.held.shift()?.value ?? value;
    this.now += 1;
    return this.given ?? this.held[0]?.value ?? value;
  }
}

const CAUGHT_UP = 2;

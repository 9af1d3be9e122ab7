import { type Frame, framesIn, type Seconds } from "../domain/units.ts";

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

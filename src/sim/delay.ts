import { framesIn, type Seconds } from "../domain/units.ts";

/** Hands on what it was given so many seconds ago; before that, what it was given first. */
export class Delay<T> {
  private readonly held: T[] = [];
  private readonly frames: number;
  constructor(time: Seconds) {
    this.frames = framesIn(time);
  }

  pass(value: T): T {
    this.held.push(value);
    return this.held.length > this.frames ? (this.held.shift() ?? value) : (this.held[0] ?? value);
  }
}

import { FRAME_SECONDS } from "../domain/units.ts";

const SWINGS_HZ = 2.8;
const OMEGA = 2 * Math.PI * SWINGS_HZ;
const HEALTHY = 0.03;

/** The head as a weight on a spring: leans back when it is jerked, and swings on after a stop when something is loose. */
export class Swing {
  lean = 0;
  private speed = 0;
  private readonly looseness: number;
  constructor(looseness: number) {
    this.looseness = looseness;
  }

  /** Plays one frame of the swing. `acceleration` is that of what carries it, in its own measure per second squared. */
  advance(acceleration: number): void {
    const damping = this.looseness > 0 ? 0.12 : 0.35;
    const pull = -OMEGA * OMEGA * this.lean - 2 * damping * OMEGA * this.speed;
    this.speed += (pull - (HEALTHY + this.looseness) * acceleration) * FRAME_SECONDS;
    this.lean += this.speed * FRAME_SECONDS;
  }
}

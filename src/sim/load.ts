import { FRAME_SECONDS } from "../domain/units.ts";
import { clamp } from "./follower.ts";
import type { Hooks } from "./hooks.ts";
import type { Stance } from "./moment.ts";

/** What a motor moves: follows the rotor through its play, and leans and swings if it is heavy. */
export class Load {
  /** Where the eye sees it, and how fast. */
  seen: number;
  speed = 0;
  /** The rotor's speed when slack was taken up with a knock in this frame; 0 without one. */
  knocked = 0;
  private at: number;
  private rotorSpeed = 0;
  private taken = true;
  private readonly swing: Swing | undefined;
  private readonly hooks: Hooks;

  constructor(start: number, weight: "heavy" | "light", hooks: Hooks) {
    this.seen = this.at = start;
    this.hooks = hooks;
    this.swing = weight === "heavy" ? new Swing(hooks.looseness) : undefined;
  }

  /**
   * Plays one frame after the rotor moved. `rotor` is where the rotor is now, `moved` how far it came in this frame, both
   * in the part's own measure: share of its travel, 0 to 1, or turns.
   */
  follow(rotor: number, moved: number, stance: Stance): void {
    const speed = moved / FRAME_SECONDS;
    this.swing?.advance((speed - this.rotorSpeed) / FRAME_SECONDS);
    this.rotorSpeed = speed;
    this.take(rotor, speed, this.hooks.play(stance));
    const seen = this.at + this.hooks.pull(stance) + (this.swing?.lean ?? 0);
    this.speed = (seen - this.seen) / FRAME_SECONDS;
    this.seen = seen;
  }

  private take(rotor: number, speed: number, play: number): void {
    const at = clamp(this.at, rotor - play / 2, rotor + play / 2);
    const touched = play === 0 || Math.abs(at - this.at) > 1e-9;
    this.knocked = touched && !this.taken ? Math.abs(speed) : 0;
    if (speed !== 0) this.taken = touched;
    this.at = at;
  }
}

const SWINGS_HZ = 2.8;
const OMEGA = 2 * Math.PI * SWINGS_HZ;
const HEALTHY = 0.03;

/** The head as a weight on a spring: leans back when it is jerked, and swings on after a stop when something is loose. */
class Swing {
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

import { FRAME_SECONDS, type Frame } from "../domain/units.ts";
import { clamp, follow, type Limits, type Motion, turn } from "./follower.ts";
import { type FrameMoment, type Stance, stanceIn } from "./moment.ts";
import { SILENCE, type Sounds } from "./scene.ts";
import { Hooks, type MoverTrouble } from "./trouble.ts";

/** How far past its last place a part gets before it meets the stop. */
const STOP = 0.006;
/** How long a part pushes against a stop before the electronics take the current back, and it is quiet. */
const GIVES_IN: Frame = 30;
/** Less than this is no movement. */
const NOTHING = 1e-7;

export interface MotorBuild {
  readonly limits: Limits;
  readonly encoded: boolean;
  /** Between two stops, or round and round. */
  readonly travel: "ends" | "endless";
  readonly weight: "heavy" | "light";
  readonly start: number;
}

/**
 * A motor and what it moves. The electronics count where they believe it is; an open-loop rotor that cannot follow
 * loses steps for good, an encoded one is behind for a while and catches up.
 */
export class Motor {
  readonly load: Load;
  readonly hooks: Hooks;
  trembles = 0;
  sounds: Sounds = SILENCE;
  private believed: Motion;
  private rotor: number;
  private rotorSpeed = 0;
  private rammed: Frame = 0;
  private readonly build: MotorBuild;
  private readonly low: number;
  private readonly high: number;

  constructor(build: MotorBuild, troubles: readonly MoverTrouble[]) {
    this.build = build;
    this.hooks = new Hooks(troubles);
    this.load = new Load(build.start, build.weight, this.hooks);
    this.rotor = build.start;
    this.believed = { at: build.start, speed: 0 };
    const endless = build.travel === "endless";
    this.low = endless ? Number.NEGATIVE_INFINITY : Math.max(-STOP, this.hooks.low);
    this.high = endless ? Number.POSITIVE_INFINITY : Math.min(1 + STOP, this.hooks.high);
  }

  /** Moves one frame towards `target`, as the electronics count: share of the travel, 0 to 1, or turns. */
  towards(target: number, moment: FrameMoment, limits = this.build.limits): void {
    const stance = this.stance(moment, target - this.believed.at);
    const from = this.build.encoded ? this.reading(stance) : this.believed;
    this.move(from, follow(from, target, limits), stance);
  }

  /** Turns on and on for one frame. `speed` is in turns per second, below 0 for the other way round. */
  spin(speed: number, moment: FrameMoment): void {
    this.move(this.believed, turn(this.believed, speed, this.build.limits), this.stance(moment, speed));
  }

  /** How far the rotor is from where the electronics believe it is. */
  get astray(): number {
    return this.rotor - this.believed.at;
  }

  get counted(): number {
    return this.believed.at;
  }

  /** Makes the electronics take the present place for `place`: a share of the travel, 0 to 1, or turns. */
  zero(place: number): void {
    this.believed = { at: place, speed: 0 };
  }

  /** What the motor feels in this frame. `way` is above 0 on its way up, below 0 on its way down, and 0 at rest. */
  stance(moment: FrameMoment, way: number): Stance {
    return stanceIn(moment, this.rotor, way > 1e-9 ? 1 : way < -1e-9 ? -1 : 0, this.share);
  }

  /** Speed as a share of full speed. */
  private get share(): number {
    return Math.abs(this.rotorSpeed) / this.build.limits.speed;
  }

  private reading(stance: Stance): Motion {
    return { at: this.believed.at + this.hooks.misreads(stance), speed: this.believed.speed };
  }

  private move(from: Motion, next: Motion, stance: Stance): void {
    const { hooks } = this;
    const drag = hooks.drag(stance);
    const drive = hooks.drive(stance);
    const wanted = next.at - from.at;
    const asked = Math.abs(wanted) > NOTHING;
    const moved = drive === "alive" ? this.yields(wanted, hooks.restraint(stance, drag), stance) : 0;
    const before = this.rotor;
    const went = clamp(before + moved, this.low, this.high) - before;
    this.rotor = clamp(before + went + hooks.slip(stance), this.low, this.high);
    this.believed = this.build.encoded ? this.corrected(went) : next;
    this.rotorSpeed = (this.rotor - before) / FRAME_SECONDS;
    this.rammed = Math.abs(moved) > NOTHING && went === 0 ? this.rammed + 1 : 0;
    const stuck = asked && moved === 0 && drive === "alive";
    this.trembles = drive === "buzzing" && asked ? 0.6 : stuck ? 0.3 : 0;
    this.load.follow(this.rotor, this.rotor - before, stance);
    this.listen(stance, drag);
  }

  /** How much of the wanted way the rotor goes against the drag. */
  private yields(wanted: number, drag: number, stance: Stance): number {
    if (drag === 0) return wanted;
    if (this.build.encoded) return this.eased(wanted, drag);
    const torque = 1 - 0.45 * stance.speed;
    if (drag >= torque) return 0;
    const slipping = (drag / torque - 0.75) / 0.25;
    return slipping > 0 && stance.chance() < slipping ? 0 : wanted;
  }

  /** An encoded motor works against drag at less speed instead of losing steps. */
  private eased(wanted: number, drag: number): number {
    const cap = this.build.limits.speed * FRAME_SECONDS * clamp((1 - drag) / 0.5, 0.015, 1);
    return clamp(wanted, -cap, cap);
  }

  private corrected(went: number): Motion {
    return { at: this.believed.at + went, speed: went / FRAME_SECONDS };
  }

  private listen(stance: Stance, drag: number): void {
    const speed = Math.min(1, this.share);
    const rammed = this.rammed > 0 && this.rammed < GIVES_IN && !this.hooks.gives;
    const rubs = drag > 0.2 && (speed > 0.005 || this.trembles > 0) ? drag * (0.35 + 0.65 * speed) : 0;
    const knocked = this.load.knocked / this.build.limits.speed;
    const hum = 0.3 * speed;
    const scrape = rammed ? 0.6 : rubs;
    const knock = knocked > 0.08 ? Math.min(1, 0.25 + knocked) : 0;
    const quiet = hum === 0 && scrape === 0 && knock === 0;
    this.sounds = this.hooks.sounds(stance, quiet ? SILENCE : { hum, scrape, knock, tick: 0, whine: 0, rattle: 0 });
  }
}

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

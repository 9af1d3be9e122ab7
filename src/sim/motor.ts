import { FRAME_SECONDS, type Frame } from "../units.ts";
import { clamp, follow, type Limits, type Motion, turn } from "./follower.ts";
import { dragOf, driveOf, loosenessOf, restraintOf, soundsOf, sumOf } from "./hooks.ts";
import { type Moment, type Stance, stanceIn } from "./moment.ts";
import { SILENCE, type Sounds } from "./scene.ts";
import { Swing } from "./swing.ts";
import type { MoverTrouble } from "./trouble.ts";

/** How far past its last place a part gets before it meets the stop. */
const STOP = 0.006;
/** After so long against a stop the electronics take the current back, and it is quiet. */
const GIVES_IN: Frame = 30;

export interface MotorBuild {
  readonly limits: Limits;
  readonly encoded: boolean;
  /** Between two stops, or round and round. */
  readonly travel: "ends" | "endless";
  /** Whether something heavy hangs on it that can swing. */
  readonly swings: boolean;
  readonly start: number;
}

/**
 * A motor and what hangs on it. The electronics count where they believe it is; an open-loop rotor that cannot follow
 * loses steps for good, an encoded one is behind for a while and catches up. The load follows the rotor through its play.
 */
export class Motor {
  /** Where the load is, as the eye sees it. */
  seen: number;
  speed = 0;
  trembles = 0;
  sounds: Sounds = SILENCE;
  private believed: Motion;
  private rotor: number;
  private load: number;
  private rotorSpeed = 0;
  private taken = true;
  private readonly build: MotorBuild;
  private readonly troubles: readonly MoverTrouble[];
  private readonly swing: Swing | undefined;
  private readonly ends: { readonly low: number; readonly high: number };
  private knocked = 0;
  private rammed: Frame = 0;

  constructor(build: MotorBuild, troubles: readonly MoverTrouble[]) {
    this.build = build;
    this.troubles = troubles;
    this.seen = this.rotor = this.load = build.start;
    this.believed = { at: build.start, speed: 0 };
    this.ends = {
      low: Math.max(-STOP, ...troubles.map(({ ends }) => ends?.low ?? -STOP)),
      high: Math.min(1 + STOP, ...troubles.map(({ ends }) => ends?.high ?? 1 + STOP)),
    };
    this.swing = build.swings ? new Swing(loosenessOf(troubles)) : undefined;
  }

  /** One frame towards a place, in the count of the electronics. */
  towards(target: number, moment: Moment, limits = this.build.limits): void {
    const stance = this.stance(moment, target - this.believed.at);
    const from = this.build.encoded ? this.reading(stance) : this.believed;
    this.move(from, follow(from, target, limits), stance);
  }

  /** One frame of turning on and on, in its own measure per second. */
  spin(speed: number, moment: Moment, limits = this.build.limits): void {
    this.move(this.believed, turn(this.believed, speed, limits), this.stance(moment, speed));
  }

  /** How far the rotor is from where the electronics believe it is. */
  get astray(): number {
    return this.rotor - this.believed.at;
  }

  get counted(): number {
    return this.believed.at;
  }

  /** The electronics take the present place for this one. */
  zero(place: number): void {
    this.believed = { at: place, speed: 0 };
  }

  stance(moment: Moment, way: number): Stance {
    const speed = Math.abs(this.rotorSpeed) / this.build.limits.speed;
    return stanceIn(moment, this.rotor, way > 1e-9 ? 1 : way < -1e-9 ? -1 : 0, speed);
  }

  private reading(stance: Stance): Motion {
    const offset = this.astray;
    return { at: this.rotor - offset + sumOf(this.troubles, "misreads", stance), speed: this.believed.speed };
  }

  private move(from: Motion, next: Motion, stance: Stance): void {
    const drag = dragOf(this.troubles, stance);
    const drive = driveOf(this.troubles, stance);
    const wanted = next.at - from.at;
    const moved = drive === "alive" ? this.yields(wanted, restraintOf(this.troubles, stance, drag), stance) : 0;
    const stuck = Math.abs(wanted) > 1e-7 && moved === 0;
    const before = this.rotor;
    const went = this.stopped(before + moved) - before;
    this.rotor = this.stopped(before + went + sumOf(this.troubles, "slip", stance));
    this.believed = this.build.encoded ? this.corrected(went, stuck) : next;
    this.rammed = Math.abs(moved) > 1e-7 && went === 0 ? this.rammed + 1 : 0;
    this.trembles = drive === "buzzing" && Math.abs(wanted) > 1e-7 ? 0.6 : stuck && drive === "alive" ? 0.3 : 0;
    this.carry(stance, this.rotor - before);
    this.listen(stance, drag);
  }

  /** How much of the wanted way the rotor goes against the drag. */
  private yields(wanted: number, drag: number, stance: Stance): number {
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

  private corrected(moved: number, stuck: boolean): Motion {
    return { at: this.believed.at + moved, speed: stuck ? 0 : moved / FRAME_SECONDS };
  }

  private stopped(place: number): number {
    if (this.build.travel === "endless") return place;
    return clamp(place, this.ends.low, this.ends.high);
  }

  private carry(stance: Stance, moved: number): void {
    const play = sumOf(this.troubles, "play", stance);
    const load = clamp(this.load, this.rotor - play / 2, this.rotor + play / 2);
    const speed = moved / FRAME_SECONDS;
    this.swing?.advance((speed - this.rotorSpeed) / FRAME_SECONDS);
    this.rotorSpeed = speed;
    const touched = play === 0 || Math.abs(load - this.load) > 1e-9;
    this.knocked = touched && !this.taken && Math.abs(speed) > 0 ? Math.abs(speed) / this.build.limits.speed : 0;
    if (Math.abs(moved) > 1e-9) this.taken = touched;
    this.load = load;
    const seen = load + sumOf(this.troubles, "pull", stance) + (this.swing?.lean ?? 0);
    this.speed = (seen - this.seen) / FRAME_SECONDS;
    this.seen = seen;
  }

  private listen(stance: Stance, drag: number): void {
    const rammed = this.rammed > 0 && this.rammed < GIVES_IN;
    const speed = Math.min(1, Math.abs(this.rotorSpeed) / this.build.limits.speed);
    const rubs = drag > 0.2 && (speed > 0.005 || this.trembles > 0) ? drag * (0.35 + 0.65 * speed) : 0;
    this.sounds = soundsOf(this.troubles, stance, {
      hum: 0.3 * speed,
      scrape: rammed ? 0.6 : rubs,
      knock: this.knocked > 0.08 ? Math.min(1, 0.25 + this.knocked) : 0,
    });
  }
}

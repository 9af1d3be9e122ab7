import { FRAME_SECONDS } from "../domain/units.ts";
import type { BandsBuild } from "./build.ts";
import { Delay } from "./delay.ts";
import { limitsFor } from "./follower.ts";
import { Homing } from "./homing.ts";
import type { FrameMoment } from "./moment.ts";
import { Motor } from "./motor.ts";
import { bandAt, levelOf, type Making, type SimPart, within } from "./part.ts";
import type { PartScene } from "./scene.ts";
import type { MoverTrouble } from "./trouble.ts";

const LAG_S = 0.05;
/** A shutter blade is quick, a prism or frost is carried in by an arm. */
const BLADE_S = 0.075;
const ARM_S = 0.35;

/** A shutter blade, prism or frost: wholly in the beam or wholly out of it, or beating. */
export class Leaf implements SimPart {
  readonly function;
  private readonly build: BandsBuild;
  private readonly motor: Motor;
  private readonly demand = new Delay<number>(LAG_S);
  private readonly limits;
  private beat = 0;
  private beating = false;

  constructor(build: BandsBuild, troubles: readonly MoverTrouble[], making: Making) {
    this.build = build;
    this.function = build.function;
    const time_s = build.function.startsWith("Shutter") ? BLADE_S : ARM_S;
    this.limits = limitsFor(1, time_s / making.pace, time_s / 3);
    // Driven against a stop: it takes longer when it is stiff, and gets there.
    const start = build.function.startsWith("Shutter") ? 1 : 0;
    this.motor = new Motor({ limits: this.limits, encoded: true, travel: "ends", weight: "light", start }, troubles);
  }

  obey(levels: readonly number[], moment: FrameMoment): void {
    const level = this.demand.pass(levelOf(levels));
    this.motor.towards(this.wanted(level), moment);
  }

  beginHoming(moment: FrameMoment): Homing {
    const rest = this.build.function.startsWith("Shutter") ? 1 : 0;
    const place = { sensor: rest, rest, swing: 0, limits: this.limits, sensed: false };
    return new Homing(this.motor, place, moment);
  }

  show(): PartScene {
    const { load, trembles, sounds } = this.motor;
    const { seen, speed } = load;
    return { kind: "leaf", function: this.function, at: seen, speed, trembles, sounds, beating: this.beating };
  }

  private wanted(level: number): number {
    const band = bandAt(this.build.bands, level);
    this.beating = band?.is === "strobe";
    if (band?.is !== "strobe") {
      this.beat = 0;
      return band?.is === "closed" || band?.is === "in" ? 1 : 0;
    }
    this.beat += (band.from_hz + (band.to_hz - band.from_hz) * within(level, band)) * FRAME_SECONDS;
    return this.beat % 1 < 0.5 ? 0 : 1;
  }
}

import { isAxisFunction } from "../domain/trade/functions.ts";
import { FRAME_SECONDS } from "../domain/units.ts";
import type { BandsBuild, TravelBuild } from "./build.ts";
import { clamp, Delay, LagByDirection, type Limits, limitsFor } from "./follower.ts";
import type { FrameMoment } from "./moment.ts";
import { Motor } from "./motor.ts";
import { bandAt, Homing, levelOf, levelShare, type Making, type SimPart, within } from "./part.ts";
import type { PartScene } from "./scene.ts";
import type { MoverTrouble } from "./trouble.ts";

/** Pan, tilt, a flag, iris, zoom, focus, a blade: goes where its slots say, after its lag, within its speed. */
export class TravelPart implements SimPart {
  readonly function;
  private readonly build: TravelBuild;
  private readonly motor: Motor;
  private readonly demand: LagByDirection;
  private readonly limits: Limits;

  constructor(build: TravelBuild, troubles: readonly MoverTrouble[], making: Making) {
    this.build = build;
    this.function = build.function;
    this.limits = limitsFor(1, build.fullTravel_s / making.pace, build.acceleration_s);
    this.motor = new Motor(
      {
        limits: this.limits,
        encoded: build.encoded,
        travel: "ends",
        weight: swings(build) ? "heavy" : "light",
        start: swings(build) ? 0.4 : 0.1,
      },
      [...troubles, ownShift(build, making)],
    );
    this.demand = new LagByDirection(
      build.lag_s + Math.max(0, making.laterUp_s),
      build.lag_s + Math.max(0, -making.laterUp_s),
    );
  }

  obey(levels: readonly number[], moment: FrameMoment): void {
    this.motor.towards(this.demand.pass(this.shareAt(levels)), moment);
  }

  private shareAt(levels: readonly number[]): number {
    const share = levelShare(levels);
    const { raw } = this.build;
    if (raw === undefined) return share;
    const full = 256 ** levels.length - 1;
    return clamp((share * full - raw[0]) / (raw[1] - raw[0]), 0, 1);
  }

  beginHoming(moment: FrameMoment): Homing {
    const sensor = swings(this.build) ? 0.5 : 0;
    const limits = { ...this.limits, speed: this.limits.speed / 3 };
    const place = { sensor, rest: sensor, swing: 0.15, limits, sensed: swings(this.build) };
    return new Homing(this.motor, place, moment);
  }

  show(): PartScene {
    const { from, to } = this.build;
    const { load, trembles, sounds } = this.motor;
    const { seen, speed } = load;
    const physical = from + (to - from) * seen;
    const span = Math.abs(to - from);
    return { kind: "travel", function: this.function, at: seen, physical, span, speed, trembles, sounds, patchy: 0 };
  }
}

/** Pan and tilt carry a weight and find home in mid-travel. */
const swings = ({ function: id }: TravelBuild): boolean => isAxisFunction(id);

const ownShift = (build: TravelBuild, { shift }: Making): MoverTrouble => ({
  kind: "mover",
  function: build.function,
  homeShift: () => shift * (swings(build) ? 0.0003 : 0.004),
});

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

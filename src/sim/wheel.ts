import type { SpinBand, TurnBuild, WheelBuild } from "./build.ts";
import { Delay, type Limits, limitsFor } from "./follower.ts";
import type { FrameMoment } from "./moment.ts";
import { Motor } from "./motor.ts";
import { bandAt, Homing, levelOf, type Making, type SimPart, within } from "./part.ts";
import type { PartScene } from "./scene.ts";
import type { MoverTrouble } from "./trouble.ts";

const LAG_S = 0.05;
/** Two ways equally long must not be chosen by a rounding error. */
const HAIR = 1e-6;

/** A wheel of colours or gobos: takes the shorter way round to the place that is meant, or turns on and on. */
export class WheelPart implements SimPart {
  readonly function;
  private readonly build: WheelBuild;
  private readonly motor: Motor;
  private readonly demand = new Delay<number>(LAG_S);
  private readonly limits: Limits;

  constructor(build: WheelBuild, troubles: readonly MoverTrouble[], making: Making) {
    this.build = build;
    this.function = build.function;
    const homeShift = () => (making.shift * 0.02) / build.positions.length;
    this.limits = limitsFor(1 / build.positions.length, build.step_s / making.pace, build.step_s * 0.3);
    this.motor = new Motor({ limits: this.limits, encoded: false, travel: "endless", weight: "light", start: 0.3 }, [
      ...troubles,
      { kind: "mover", function: build.function, homeShift },
    ]);
  }

  obey(levels: readonly number[], moment: FrameMoment): void {
    const level = this.demand.pass(levelOf(levels));
    const band = bandAt(this.build.spins, level);
    if (band) this.motor.spin(turnsPerSecond(band, level), moment);
    else this.motor.towards(nearest(this.motor.counted, this.placeOf(level)), moment);
  }

  beginHoming(moment: FrameMoment): Homing {
    const here = Math.round(this.motor.load.seen);
    const place = { sensor: here, rest: here, swing: 1, limits: this.limits, sensed: true };
    return new Homing(this.motor, place, moment);
  }

  show(): PartScene {
    const { load, trembles, sounds } = this.motor;
    const { seen, speed } = load;
    const { positions } = this.build;
    const at = seen * positions.length;
    const named = (place: number): string => positions.at(place % positions.length)?.is ?? "";
    return {
      kind: "wheel",
      function: this.function,
      at: seen,
      places: positions.length,
      item: named(Math.round(at)),
      neighbour: named(Math.round(at) + (at < Math.round(at) ? -1 : 1)),
      speed,
      trembles,
      sounds,
      patchy: 0,
    };
  }

  /** In turns; places stand evenly round the wheel in the order of their levels. */
  private placeOf(level: number): number {
    const { positions } = this.build;
    const index = positions.reduce(
      (best, { at }, n) => (at <= level && at >= (positions[best]?.at ?? 0) ? n : best),
      0,
    );
    return index / positions.length;
  }
}

/** How fast a wheel turns at a level of a spinning band, in turns per second, below 0 for the other way round. */
const turnsPerSecond = (band: SpinBand, level: number): number =>
  (band.from_rpm + (band.to_rpm - band.from_rpm) * within(level, band)) / 60;

/** The same place on the wheel, by the shorter way from where it is. */
const nearest = (from: number, place: number): number => from + wrap(place - from - HAIR) + HAIR;

/** A difference of `turns` as the shorter way round, from -0.5 to 0.5. */
export const wrap = (turns: number): number => turns - Math.round(turns);

/** Turns per second, and per second squared, of a small motor with a gear. */
const LIMITS = { speed: 2, acceleration: 8 };

/** A gobo, prism or effect on its own axle: put at an angle, or turned. */
export class TurnPart implements SimPart {
  readonly function;
  private readonly build: TurnBuild;
  private readonly motor: Motor;
  private readonly demand = new Delay<number>(LAG_S);
  private turning = false;

  constructor(build: TurnBuild, troubles: readonly MoverTrouble[], making: Making) {
    this.build = build;
    this.function = build.function;
    this.motor = new Motor({ limits: LIMITS, encoded: false, travel: "endless", weight: "light", start: 0.2 }, [
      ...troubles,
      { kind: "mover", function: build.function, homeShift: () => making.shift * 0.0015 },
    ]);
  }

  obey(levels: readonly number[], moment: FrameMoment): void {
    const level = this.demand.pass(levelOf(levels));
    const band = bandAt(this.build.rotate, level);
    this.turning = band !== undefined;
    const angle = this.angleAt(level);
    if (band) this.motor.spin(turnsPerSecond(band, level), moment);
    else if (angle === undefined) this.motor.spin(0, moment);
    else this.motor.towards(this.motor.counted + wrap(angle - this.motor.counted), moment);
  }

  beginHoming(moment: FrameMoment): Homing {
    const here = Math.round(this.motor.load.seen);
    const place = { sensor: here, rest: here, swing: 0.5, limits: LIMITS, sensed: true };
    return new Homing(this.motor, place, moment);
  }

  show(): PartScene {
    const { load, trembles, sounds } = this.motor;
    const { seen, speed } = load;
    return { kind: "turn", function: this.function, at: seen, speed, trembles, sounds, turning: this.turning };
  }

  /** In turns; undefined between the bands, where it stands still wherever it is. */
  private angleAt(level: number): number | undefined {
    const { index } = this.build;
    if (!index || !bandAt([index], level)) return undefined;
    return (index.from_deg + (index.to_deg - index.from_deg) * within(level, index)) / 360;
  }
}

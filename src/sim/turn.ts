import type { TurnBuild } from "./build.ts";
import { Delay } from "./delay.ts";
import { Homing } from "./homing.ts";
import type { FrameMoment } from "./moment.ts";
import { Motor } from "./motor.ts";
import { bandAt, levelOf, type Making, type SimPart, within } from "./part.ts";
import type { PartScene } from "./scene.ts";
import type { MoverTrouble } from "./trouble.ts";
import { turnsPerSecond, wrap } from "./wheel.ts";

const LAG_S = 0.05;
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

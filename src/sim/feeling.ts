import { AXIS_FUNCTIONS, type FunctionId } from "../domain/trade/functions.ts";
import { FRAME_SECONDS, type Frame, type Seconds } from "../domain/units.ts";
import type { FixtureBuild } from "./build.ts";
import type { SimDraw } from "./chance.ts";
import { limitsFor } from "./follower.ts";
import type { Source } from "./lamp.ts";
import type { FrameMoment } from "./moment.ts";
import type { PartScene } from "./scene.ts";

/** How long the heat takes to get two thirds of the way. */
const HEATS_IN_S: Seconds = 360;
const IDLE_WARMTH = 0.1;
/** What is left of a jolt a frame later. */
const JOLT_STAYS = 0.955;

interface Surroundings {
  readonly attitude: "standing" | "hung";
  readonly warmth: number;
}

/** What the fixture feels as a whole: heat, gravity, jolts. */
export class Feeling {
  private warmth: number;
  private jolt = 0;
  private busy = 0;
  private parts: readonly PartScene[] = [];
  private speeds: readonly number[] = [];
  private readonly axes: readonly FeltAxis[];
  private readonly hung: boolean;
  private readonly chance: SimDraw;

  constructor(build: FixtureBuild, { attitude, warmth }: Surroundings, chance: SimDraw) {
    this.axes = AXIS_FUNCTIONS.map((id) => ({ id, full: fullSpeed(build, id) }));
    this.hung = attitude === "hung";
    this.warmth = warmth;
    this.chance = chance;
  }

  /** What every part of the fixture feels in this frame. */
  moment(frame: Frame, homing: boolean): FrameMoment {
    const tilt_deg = this.degrees("Tilt");
    const up = Math.cos((tilt_deg * Math.PI) / 180);
    return {
      frame,
      time_s: frame * FRAME_SECONDS,
      warmth: this.warmth,
      upright: this.hung ? -up : up,
      pan_deg: this.degrees("Pan"),
      tilt_deg,
      jolt: Math.min(1, this.jolt),
      busy: this.busy,
      homing,
      chance: this.chance,
    };
  }

  /** Takes in what the frame did to the fixture: heat, jolts, how many parts moved. */
  sense(parts: readonly PartScene[], source: Source): void {
    this.parts = parts;
    const goal = source.lit_s > 0 ? 1 : IDLE_WARMTH;
    this.warmth += ((goal - this.warmth) * FRAME_SECONDS) / HEATS_IN_S;
    this.busy = parts.filter(({ kind, speed }) => Math.abs(speed) > (kind === "turn" ? 0.2 : 0.05)).length;
    this.shake();
  }

  private shake(): void {
    const speeds = this.axes.map(({ id, full }) => (full === undefined ? 0 : (this.part(id)?.speed ?? 0) / full));
    const changed = speeds.reduce((sum, speed, n) => sum + Math.abs(speed - (this.speeds[n] ?? 0)), 0);
    this.jolt = this.jolt * JOLT_STAYS + changed;
    this.speeds = speeds;
  }

  private degrees(id: FunctionId): number {
    const part = this.part(id);
    return part?.kind === "travel" ? part.physical : 0;
  }

  private part(id: FunctionId): PartScene | undefined {
    return this.parts.find((part) => part.function === id);
  }
}

interface FeltAxis {
  readonly id: FunctionId;
  /** Shares of travel per second; undefined where the fixture has no such axis. */
  readonly full: number | undefined;
}

const fullSpeed = (build: FixtureBuild, id: FunctionId): number | undefined => {
  const part = build.parts.find((one) => one.kind === "travel" && one.function === id);
  return part?.kind === "travel" ? limitsFor(1, part.fullTravel_s, part.acceleration_s).speed : undefined;
};

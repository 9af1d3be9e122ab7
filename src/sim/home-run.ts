import type { FunctionId } from "../domain/trade/functions.ts";
import { FRAME_SECONDS, type Seconds } from "../domain/units.ts";
import type { FittedParts } from "./assemble.ts";
import { HOMING_SEARCH, type Homing } from "./homing.ts";
import type { FrameMoment } from "./moment.ts";

/** One homing of the whole fixture: over when the slowest part is done. */
export class HomeRun {
  /** Parts that gave up; the display names them. */
  readonly failed: readonly FunctionId[];
  private readonly homings: readonly Homing[];
  private readonly time_s: Seconds;
  private readonly lasts: number;
  private elapsed_s: Seconds = 0;

  constructor(parts: readonly FittedParts[], time_s: Seconds, moment: FrameMoment) {
    const homings = parts.map(({ part }) => ({ id: part.function, homing: part.beginHoming(moment) }));
    this.homings = homings.flatMap(({ homing }) => homing ?? []);
    this.failed = homings.flatMap(({ id, homing }) => (homing?.failed ? [id] : []));
    this.time_s = Math.max(FRAME_SECONDS, time_s);
    this.lasts = 1 + HOMING_SEARCH * (Math.max(1, ...this.homings.map(({ tries }) => tries)) - 1);
  }

  /** Plays one frame of homing; true when the fixture is ready. */
  advance(moment: FrameMoment): boolean {
    this.elapsed_s += FRAME_SECONDS;
    const share = this.elapsed_s / this.time_s;
    for (const homing of this.homings) homing.advance(share, moment);
    return share >= this.lasts - 1e-9;
  }
}

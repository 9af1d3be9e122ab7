import type { Frame } from "../../domain/units.ts";
import type { Pair } from "./pair.ts";
import type { Track } from "./track.ts";

const PAUSE: Frame = 4;
const RESTED: Frame = 12;

/** One movement from one stop or turn-round to the next, as it should be and as it is. */
export class Movement {
  /** Frames for which the movement has been asked for. */
  frames: Frame = 0;
  /** How far it should have gone, and went. */
  went = 0;
  mineWent = 0;
  way = 0;
  private from = 0;
  private mineFrom = 0;
  private paused: Frame = PAUSE;
  private recorded = false;
  private begun = false;

  /**
   * Says "set-off" as a new movement begins, and "rested" once when both have come to rest after
   * it; undefined in every other frame.
   */
  see({ mine, twin }: Pair, mineTrack: Track, twinTrack: Track): "set-off" | "rested" | undefined {
    if (!this.begun) this.begin(mine.at, twin.at, 0);
    const sets = twinTrack.still === 0 && (this.paused >= PAUSE || twinTrack.speed * this.way < 0);
    if (sets) this.begin(mine.at, twin.at, Math.sign(twinTrack.speed));
    this.paused = twinTrack.still;
    this.frames += twinTrack.still === 0 ? 1 : 0;
    this.went = Math.max(this.went, Math.abs(twin.at - this.from));
    this.mineWent = Math.max(this.mineWent, Math.abs(mine.at - this.mineFrom));
    if (sets) return "set-off";
    if (this.recorded || twinTrack.still < RESTED || mineTrack.still < RESTED) return undefined;
    this.recorded = true;
    return "rested";
  }

  private begin(mine: number, twin: number, way: number): void {
    this.begun = true;
    this.from = twin;
    this.mineFrom = mine;
    this.way = way;
    this.frames = this.went = this.mineWent = 0;
    this.recorded = false;
  }
}

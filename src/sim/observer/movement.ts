import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { Frame } from "../../domain/units.ts";
import type { Pair, Track } from "./eye.ts";

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

/** Only of a movement this long, in shares of travel, does one judge whether it goes all the way. */
const JUDGED_FROM = 0.4;

/** How far both got, up and down, in the course of a step. */
export class StepReach {
  private mineLow = Number.POSITIVE_INFINITY;
  private mineHigh = Number.NEGATIVE_INFINITY;
  private twinLow = Number.POSITIVE_INFINITY;
  private twinHigh = Number.NEGATIVE_INFINITY;
  private twinNow = 0;

  /**
   * Takes in where both are in this frame. `mine` and `twin` are in the part's own measure:
   * share of its travel, 0 to 1, or turns.
   */
  see(mine: number, twin: number): void {
    this.mineLow = Math.min(this.mineLow, mine);
    this.mineHigh = Math.max(this.mineHigh, mine);
    this.twinLow = Math.min(this.twinLow, twin);
    this.twinHigh = Math.max(this.twinHigh, twin);
    this.twinNow = twin;
  }

  /**
   * Says at the end of a step whether the part stopped short of where its twin got. `least` is the share of travel that the
   * eye can tell without having seen the part stand right, and `heading` is the way that a movement still goes when the
   * step is over (above 0 up, below 0 down): nobody says of a part on its way that it stopped.
   */
  judge(least: number, heading: number): readonly SymptomId[] {
    if (this.twinHigh - this.twinLow < JUDGED_FROM) return [];
    const goingDown = heading < 0 && this.twinNow <= this.twinLow;
    const goingUp = heading > 0 && this.twinNow >= this.twinHigh;
    const low = !goingDown && this.mineLow - this.twinLow > least;
    const high = !goingUp && this.twinHigh - this.mineHigh > least;
    if (low && high) return ["short-range"];
    return low || high ? ["stops-short"] : [];
  }
}

const SEEN_AFTER: Frame = 3;
const LONG: Frame = 24;
const STUCK: Frame = 14;
const CATCHES_UP_WITHIN: Frame = 80;

/** Sees that a movement falters beside an even one, and what becomes of it. */
export class Dip {
  open = false;
  private pace = 0;
  private frames: Frame = 0;
  private stuck: Frame = 0;
  private watching: Frame = 0;
  private faster: Frame = 0;
  private found: readonly SymptomId[] = [];

  /**
   * True in the frame in which it is first noticed that the movement falters. `behind` is how far off its place the part
   * is, as a multiple of what the eye can just tell.
   */
  see(mine: Track, twin: Track, behind: number): boolean {
    if (twin.steady) this.pace = Math.abs(twin.speed);
    if (this.open) this.during(mine, twin, behind);
    else return this.before(mine, twin);
    return false;
  }

  /** Ends or turns round the movement: what has not recovered by now never did. */
  leave(): void {
    if (this.open) this.ended(this.stuck > 0 ? 2 : 0);
    this.frames = this.watching = 0;
  }

  /** Ends the step and says what became of everything that faltered in it. */
  settle(): readonly SymptomId[] {
    this.leave();
    return this.found;
  }

  private before(mine: Track, twin: Track): boolean {
    this.catching(mine, twin);
    const falters = twin.steady && Math.abs(mine.speed) < 0.55 * this.pace;
    this.frames = falters ? this.frames + 1 : 0;
    if (this.frames < SEEN_AFTER) return false;
    this.open = true;
    this.stuck = 0;
    return true;
  }

  private during(mine: Track, twin: Track, behind: number): void {
    this.frames += 1;
    if (Math.abs(mine.speed) < 0.12 * this.pace) this.stuck += 1;
    if (Math.abs(mine.speed) > 0.7 * this.pace) this.recovered(behind);
    else if (mine.still > STUCK && twin.still > STUCK) this.ended(behind);
  }

  private recovered(behind: number): void {
    this.close();
    this.watching = behind > 1.5 ? CATCHES_UP_WITHIN : 0;
    this.faster = 0;
  }

  /** Both stand. Short of its place it may only have had less far to go: where it stands says the rest. */
  private ended(behind: number): void {
    if (behind > 1 && this.stuck < 2 * STUCK) this.open = false;
    else this.close();
    this.frames = 0;
  }

  private close(): void {
    const symptom = this.stuck >= STUCK ? "stalls" : this.frames >= LONG ? "slow" : "jerks";
    this.found = [...this.found, symptom];
    this.open = false;
    this.frames = 0;
  }

  /** Goes faster than it should, or still goes when it should have arrived. */
  private catching(mine: Track, twin: Track): void {
    if (this.watching <= 0) return;
    this.watching -= 1;
    if (Math.abs(mine.speed) > 1.2 * Math.abs(twin.speed) + 0.1 * this.pace) this.faster += 1;
    if (this.faster < 5) return;
    this.found = [...this.found, "catches-up"];
    this.watching = 0;
  }
}

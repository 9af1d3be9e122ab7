import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { Frame } from "../../domain/units.ts";
import type { Track } from "./track.ts";

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

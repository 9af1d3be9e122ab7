import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { Frame } from "../../domain/units.ts";
import type { Keen } from "./keen.ts";

const SETTLED: Frame = 20;
const SWINGS = 2;
/** How long after the stop a swing has died away; what still swings then hunts. */
const DIED_AWAY: Frame = 60;
const HUNTS = 3;

/** Watches what should stand still: swings, creeps, slips. */
export class Stillness {
  private frames: Frame = 0;
  private turns = 0;
  private hunting = 0;
  private low = 0;
  private high = 0;
  private way = 0;
  private base: number | undefined;
  private baseFrame: Frame = 0;
  private reported: readonly SymptomId[] = [];

  /** Begins anew: the part has just been commanded to stop at another place. */
  restart(): void {
    this.frames = this.turns = this.hunting = this.way = 0;
    this.base = undefined;
    this.reported = [];
  }

  /**
   * What is first noticed in this frame of a part that should stand still; undefined where nothing is.
   * `off` is how far it is from where it should stand, in its own measure (share of travel, or turns), and
   * `stood` is how long it should have stood.
   */
  see(off: number, keen: Keen, swings: "heavy" | "light", stood: Frame): SymptomId | undefined {
    this.frames += 1;
    if (this.frames === 1) this.low = this.high = off;
    this.follow(off, keen.place * 0.7);
    if (swings === "heavy" && this.hunting >= HUNTS) return this.once("hunts");
    if (swings === "heavy" && this.turns >= SWINGS) return this.once("swings-on");
    return this.turns < SWINGS ? this.creeping(off, keen.place, stood) : undefined;
  }

  /** Counts turning points further apart than the eye can miss. */
  private follow(off: number, least: number): void {
    this.low = Math.min(this.low, off);
    this.high = Math.max(this.high, off);
    if (this.way >= 0 && off < this.high - least) this.turned(-1, off);
    else if (this.way <= 0 && off > this.low + least) this.turned(1, off);
  }

  private turned(way: number, off: number): void {
    if (this.way !== 0) this.turns += 1;
    if (this.frames > DIED_AWAY) this.hunting += 1;
    this.way = way;
    this.low = this.high = off;
  }

  /** Something that has come to rest and then leaves its place. */
  private creeping(off: number, least: number, stood: Frame): SymptomId | undefined {
    if (this.base === undefined) {
      if (stood < SETTLED) return undefined;
      this.base = off;
      this.baseFrame = this.frames;
    }
    if (Math.abs(off - this.base) <= least) return undefined;
    return this.once(this.frames - this.baseFrame > 40 ? "creeps" : "slips-back");
  }

  private once(symptom: SymptomId): SymptomId | undefined {
    if (this.reported.includes(symptom)) return undefined;
    this.reported = [...this.reported, symptom];
    return symptom;
  }
}

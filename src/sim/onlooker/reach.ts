import type { SymptomId } from "../../domain/trade/symptoms.ts";

/** Only of a movement this long, in shares of travel, does one judge whether it goes all the way. */
const LONG = 0.4;

/** How far both got, up and down, in the course of a step. */
export class Reach {
  private mineLow = Number.POSITIVE_INFINITY;
  private mineHigh = Number.NEGATIVE_INFINITY;
  private twinLow = Number.POSITIVE_INFINITY;
  private twinHigh = Number.NEGATIVE_INFINITY;

  see(mine: number, twin: number): void {
    this.mineLow = Math.min(this.mineLow, mine);
    this.mineHigh = Math.max(this.mineHigh, mine);
    this.twinLow = Math.min(this.twinLow, twin);
    this.twinHigh = Math.max(this.twinHigh, twin);
  }

  /** `least`: what the eye can tell without having seen it right. */
  judge(least: number): readonly SymptomId[] {
    if (this.twinHigh - this.twinLow < LONG) return [];
    const low = this.mineLow - this.twinLow > least;
    const high = this.twinHigh - this.mineHigh > least;
    if (low && high) return ["short-range"];
    return low || high ? ["stops-short"] : [];
  }
}

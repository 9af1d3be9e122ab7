import type { SymptomId } from "../../domain/trade/symptoms.ts";

/** Only of a movement this long, in shares of travel, does one judge whether it goes all the way. */
const LONG = 0.4;

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
    if (this.twinHigh - this.twinLow < LONG) return [];
    const goingDown = heading < 0 && this.twinNow <= this.twinLow;
    const goingUp = heading > 0 && this.twinNow >= this.twinHigh;
    const low = !goingDown && this.mineLow - this.twinLow > least;
    const high = !goingUp && this.twinHigh - this.mineHigh > least;
    if (low && high) return ["short-range"];
    return low || high ? ["stops-short"] : [];
  }
}

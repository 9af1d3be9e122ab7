import { FRAMES_PER_SECOND, type Frame } from "../../domain/units.ts";

/** The screen is drawn for the first time meanwhile, which says nothing of the computer. */
const SETTLES: Frame = 2 * FRAMES_PER_SECOND;
const WATCHED: Frame = 3 * FRAMES_PER_SECOND;
/** One may be anything. */
const MOST_LATE = 1;

/**
 * Watches whether the computer holds the beat while a run stands before its first movement: frames that were left out
 * because their time had passed. Says so once, before anybody judges a jerk that is the computer's.
 */
export class Steadiness {
  private seen = 0;
  private left = 0;
  private over = false;

  /**
   * Takes one beat of the clock, `gap` frames after the one before. Gives words when enough was seen and the beat was not
   * kept; undefined until then, and where it was kept.
   */
  beat(gap: Frame, stands: boolean): string | undefined {
    this.over ||= !stands;
    if (this.over) return undefined;
    this.seen += gap;
    if (this.seen > SETTLES) this.left += gap - 1;
    if (this.seen < SETTLES + WATCHED) return undefined;
    this.over = true;
    return this.left > MOST_LATE
      ? `This computer is too busy: ${this.left} of ${WATCHED} frames came too late before anything moved. Close other programs; "limber doctor" names the busiest.`
      : undefined;
  }
}

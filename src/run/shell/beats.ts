import { FRAME_SECONDS, FRAMES_PER_SECOND, type Frame, type Seconds, secondsOf } from "../../domain/units.ts";

/** What played at a moment: its key, the frame that was out, and the seconds since frame 0. */
interface Out {
  readonly key: string;
  readonly frame: Frame;
  readonly after: Seconds;
}

/** A stretch in which frame followed frame: the first of them, when it went out, and when the last did. */
interface PlayedStretch {
  readonly key: string;
  readonly frame: Frame;
  readonly since: Seconds;
  until: Seconds;
  last: Frame;
}

const NOTHING: Out = { key: "", frame: 0, after: 0 };
/** Hours of steps. */
const MOST = 1000;

/** Remembers what was out when, on the run's clock: a press that took its time on the way is placed where it was made. */
export class WasOut {
  private stretches: PlayedStretch[] = [];

  /** Notes what was out, at every beat, after its frame has gone out. */
  beat(at: Seconds, key: string, frame: Frame): void {
    const last = this.stretches.at(-1);
    const follows = last?.key === key && Math.abs(secondsOf(frame - last.frame) - (at - last.since)) <= FRAME_SECONDS;
    if (last && follows) {
      last.until = at;
      last.last = frame;
    } else this.stretches.push({ key, frame, since: at, until: at, last: frame });
    if (this.stretches.length > MOST) this.stretches = this.stretches.slice(-MOST / 2);
  }

  /** What was out at a time of the run's clock: the step and its frame, or nothing. */
  at(time: Seconds): Out {
    const stretch = this.stretches.findLast(({ since }) => since <= time);
    if (!stretch || stretch.key === "") return NOTHING;
    const { key, frame: first, since, until, last } = stretch;
    // A little after its last beat it was still out; later it was the computer that stood still.
    if (time - until > 2 * FRAME_SECONDS) return NOTHING;
    const passed = Math.min(time, until + FRAME_SECONDS) - since;
    const frame = Math.min(last, first + Math.floor(passed * FRAMES_PER_SECOND + 1e-6));
    return { key, frame, after: secondsOf(first) + passed };
  }
}

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

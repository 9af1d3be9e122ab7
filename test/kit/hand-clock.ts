import { FRAME_SECONDS, type Seconds, secondsOf } from "../../src/domain/units.ts";
import type { Clock, Tick } from "../../src/run/ports.ts";

/** A clock that stands still until it is moved. Ticks are called at once, in the course of the move. */
export interface HandClock extends Clock {
  /** Lets this time pass; every frame that falls due is called, on time. */
  advance(time: Seconds): void;
  /** Goes to the next frame, or this many frames on, and no further. */
  tick(count?: number): void;
  /** Lets this time pass without calling a frame, as a busy computer does, then calls the one that is due by now, late. */
  stall(time: Seconds): void;
}

interface Beat {
  readonly start: Seconds;
  next: number;
  readonly onTick: (tick: Tick) => void;
}

/** Keeps 0.1 s at 4 frames when it is added up from tenths. */
const ALLOWANCE = 1e-9;

/** A clock that a test moves by hand. Frame 0 is due at the very moment of the start, and called with the next move. */
export const handClock = (begins = "2026-01-01T00:00:00.000Z"): HandClock => {
  let now: Seconds = 0;
  let beat: Beat | undefined;
  const deadline = ({ start, next }: Beat) => start + secondsOf(next);
  const isDue = (running: Beat | undefined, by: Seconds): running is Beat =>
    running !== undefined && deadline(running) <= by + ALLOWANCE;
  const call = (running: Beat, late: Seconds) => {
    const frame = running.next;
    running.next += 1;
    running.onTick({ frame, late });
  };
  const callOnTime = (running: Beat) => {
    now = deadline(running);
    call(running, 0);
  };
  return {
    now: () => now,
    date: () => new Date(Date.parse(begins) + Math.round(now * 1000)).toISOString(),
    start: (onTick) => {
      if (beat !== undefined) throw new Error("Bug: this clock is running already");
      const mine: Beat = { start: now, next: 0, onTick };
      beat = mine;
      return () => {
        if (beat === mine) beat = undefined;
      };
    },
    advance: (time) => {
      const until = now + time;
      while (isDue(beat, until)) callOnTime(beat);
      now = Math.max(now, until);
    },
    tick: (count = 1) => {
      for (let left = count; left > 0 && beat !== undefined; left -= 1) callOnTime(beat);
    },
    stall: (time) => {
      now += time;
      if (!isDue(beat, now)) return;
      beat.next += Math.floor((now - deadline(beat) + ALLOWANCE) / FRAME_SECONDS);
      call(beat, Math.max(0, now - deadline(beat)));
    },
  };
};

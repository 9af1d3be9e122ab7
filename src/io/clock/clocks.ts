import { uptime } from "node:os";
import { performance } from "node:perf_hooks";
import { FRAME_SECONDS, type Milliseconds, type Seconds, secondsOf } from "../../domain/units.ts";
import type { Clock } from "../../run/ports.ts";

/** What the frame clock needs of the machine; all in milliseconds. Tests move it by hand. */
export interface Machine {
  /** The time on a clock that never goes back. */
  now(): Milliseconds;
  /** Calls back after about this time: a timer of the event loop, often late, up to a millisecond early. Returns how to call it off. */
  wake(after: Milliseconds, call: () => void): () => void;
  /** Stands still for exactly this time. */
  hold(time: Milliseconds): void;
}

const FRAME = FRAME_SECONDS * 1000;
/** The timer is too coarse to end on the deadline, so it ends this much before; the rest is held. */
const EARLY = 2;
/** Room for the first frame to be as punctual as all others. */
const LEAD = 2 * EARLY;

/**
 * The clock of the bench: frame n is due n x 25 ms after the start, for as long as it runs, whatever became of the frames
 * before. A frame whose time has passed when its turn comes is skipped for the one that is out now. So a tick is never
 * late by a whole frame, and a suspended computer is one jump in the numbers.
 */
export const frameClock = (machine: Machine = thisMachine): Clock => ({
  now: () => machine.now() / 1000,
  date: () => new Date().toISOString(),
  start: (onTick) => {
    const start = machine.now() + LEAD;
    let next = 0;
    let callOff = () => {};
    let running = true;
    const dueIn = () => start + next * FRAME - machine.now();
    const arm = () => {
      callOff = machine.wake(Math.max(0, dueIn() - EARLY), beat);
    };
    const beat = () => {
      if (dueIn() > 0) machine.hold(dueIn());
      const late = Math.max(0, -dueIn());
      const skipped = Math.floor(late / FRAME);
      const frame = next + skipped;
      next = frame + 1;
      onTick({ frame, late: (late - skipped * FRAME) / 1000 });
      if (running) arm();
    };
    arm();
    return () => {
      running = false;
      callOff();
    };
  },
});

/** Nobody else knows this memory, so waiting on it always ends by its time: sleep without burning the processor. */
const nobodyWakesThis = new Int32Array(new SharedArrayBuffer(4));

const monotonic = () => performance.now();

/**
 * A clock in milliseconds that never goes back and counts the time in which the computer slept. `monotonic` leaves that
 * time out on Linux; `uptime` does not, but is coarse. Both give milliseconds.
 */
export const countingSleep = (monotonic: () => Milliseconds, uptime: () => Milliseconds): (() => Milliseconds) => {
  const apart = uptime() - monotonic();
  let slept = 0;
  return () => {
    const now = monotonic();
    const missed = uptime() - now - apart;
    if (missed - slept >= SURELY_ASLEEP) slept = missed;
    return now + slept;
  };
};

/** Less than this may be the coarseness of the uptime. */
const SURELY_ASLEEP = 500;

const thisMachine: Machine = {
  // Elsewhere the monotonic clock counts the sleep itself, or the uptime follows the computer's clock being set.
  now: process.platform === "linux" ? countingSleep(monotonic, () => uptime() * 1000) : monotonic,
  wake: (after, call) => {
    const timer = setTimeout(call, after);
    return () => clearTimeout(timer);
  },
  hold: (time) => {
    Atomics.wait(nobodyWakesThis, 0, 0, time);
  },
};

/** One second's worth of frames between two turns of the event loop. */
const BATCH = 40;

/**
 * A clock for simulated runs without a person, faster than real time: 25 ms pass with every frame and none between. While
 * `busy` says so it waits, without a frame, for whoever has to think or write; `busy` is asked before every frame.
 */
export const fastClock = (busy: () => boolean): Clock => {
  let ticked = 0;
  let now: Seconds = 0;
  return {
    now: () => now,
    date: () => new Date().toISOString(),
    start: (onTick) => {
      let running = true;
      let frame = 0;
      const one = () => {
        now = secondsOf(ticked);
        ticked += 1;
        onTick({ frame, late: 0 });
        frame += 1;
      };
      const batch = () => {
        for (let left = BATCH; left > 0 && running && !busy(); left -= 1) one();
        if (running) setImmediate(batch);
      };
      setImmediate(batch);
      return () => {
        running = false;
      };
    },
  };
};

/**
 * A clock whose frames follow one another without a gap, however long the computer was busy or slept. For fixtures that are
 * simulated: they live by the frames they are sent, so their time stands still with the computer, and nothing is missed.
 */
export const frameByFrame = (clock: Clock): Clock => ({
  now: clock.now,
  date: clock.date,
  start: (onTick) => {
    let frame = 0;
    return clock.start(() => {
      onTick({ frame, late: 0 });
      frame += 1;
    });
  },
});

import { type Seconds, secondsOf } from "../../domain/units.ts";
import type { Clock } from "../../run/ports.ts";

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

import type { Clock } from "../../run/ports.ts";

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

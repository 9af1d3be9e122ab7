import { axesOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** Degrees a second; quicker no axis is, not even with a mirror (judgement). */
const QUICKEST = 700;

/** A pan or tilt that would be quicker than any. */
export const tooQuick: ProfileRule = {
  name: "too-quick",
  why: "Every movement is then too slow for the profile, and a good fixture is called slow.",
  find: (read) =>
    axesOf(read).flatMap(([id, { from, to, fullTravel, unit }]) => {
      const speed = Math.round(Math.abs(to - from) / fullTravel);
      return unit !== "deg" || speed <= QUICKEST
        ? []
        : [
            {
              path: ["functions", id, "full_travel_s"],
              message: `${speed} degrees a second`,
              instead: "seconds from one end to the other, not for a part of the way",
            },
          ];
    }),
};

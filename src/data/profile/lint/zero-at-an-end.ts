import { axesOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** Degrees counted from one end instead of from the middle. */
export const zeroAtAnEnd: ProfileRule = {
  name: "zero-at-an-end",
  why: "Bench files count from the middle: the beam would open where this bench does not allow it.",
  find: (read) =>
    axesOf(read).flatMap(([id, { from, to, unit }]) => {
      const half = (to - from) / 2;
      return unit !== "deg" || (from < 0 && to > 0) || (from > 0 && to < 0)
        ? []
        : [
            {
              path: ["functions", id, "from_deg"],
              message: `counts from ${from} to ${to} degrees, and so not from its middle`,
              instead: `from_deg: ${-half}, to_deg: ${half}`,
            },
          ];
    }),
};

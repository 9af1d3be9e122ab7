import type { Degrees } from "../../../domain/units.ts";
import { axesOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** Less travel no axis has, not even of a mirror (judgement). */
const NARROWEST: Degrees = 20;

/** A pan or tilt that hardly travels. */
export const degreesTooFew: ProfileRule = {
  name: "degrees-too-few",
  why: "Turns or radians taken for degrees turn a snap of 15 degrees into a jump from end to end.",
  find: (read) =>
    axesOf(read).flatMap(([id, { from, to, unit }]) => {
      const span = Math.abs(to - from);
      return unit !== "deg" || span >= NARROWEST
        ? []
        : [
            {
              path: ["functions", id, "to_deg"],
              message: `a travel of only ${span} degrees`,
              instead: "degrees: a turn is 360, a radian 57.3",
            },
          ];
    }),
};

import { functionsOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** A zoom whose angles are none of a beam. */
export const zoomAngle: ProfileRule = {
  name: "zoom-angle",
  why: "Zoom is judged by its beam angle: millimetres or raw values would call a good one wrong.",
  find: (read) =>
    functionsOf(read, "travel").flatMap(([id, { from, to, unit }]) =>
      id !== "Zoom" || unit !== "deg" || (Math.min(from, to) >= 0.5 && Math.max(from, to) <= 110)
        ? []
        : [
            {
              path: ["functions", id, "from_deg"],
              message: `a beam of ${from} to ${to} degrees`,
              instead: "the beam angles at both ends, such as from_deg: 8, to_deg: 42",
            },
          ],
    ),
};

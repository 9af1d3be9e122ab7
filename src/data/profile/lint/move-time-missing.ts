import { functionsOf, says } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** A shutter, prism or frost in bands of which nobody says how long a change takes. */
export const moveTimeMissing: ProfileRule = {
  name: "move-time-missing",
  why: "A slow blade is called slow only beside the time that a good one takes.",
  find: (read) =>
    functionsOf(read, "banded").flatMap(([id, { bands }]) =>
      says(read, id, "move_s") || !bands.some(({ is }) => is === "in" || is === "closed")
        ? []
        : [
            {
              path: ["functions", id],
              at: "key" as const,
              message: `${id} does not say how long a change takes`,
              instead: "move_s: 0.1 for a shutter, 0.6 for a prism or frost",
            },
          ],
    ),
};

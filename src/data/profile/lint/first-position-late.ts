import { functionsOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** A wheel of which nobody says where it stands at level 0. */
export const firstPositionLate: ProfileRule = {
  name: "first-position-late",
  why: "A position begins at its level and lasts until the next: what stands below the first is not known.",
  find: (read) =>
    functionsOf(read, "wheel").flatMap(([id, { positions }]) => {
      const first = positions[0]?.at ?? 0;
      return first === 0
        ? []
        : [
            {
              path: ["functions", id, "positions", 0, "at"],
              message: `the first position begins at ${first}, not at 0`,
              instead: "at: 0, the level where a position begins, not its middle",
            },
          ];
    }),
};

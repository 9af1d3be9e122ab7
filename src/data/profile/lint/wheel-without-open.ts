import { functionsOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** A wheel without a position called "open". */
export const wheelWithoutOpen: ProfileRule = {
  name: "wheel-without-open",
  why: "Everything else is judged with the wheels open: some colour or gobo would stand in the beam all the time.",
  find: (read) =>
    functionsOf(read, "wheel").flatMap(([id, { positions }]) =>
      positions.some(({ is }) => is === "open")
        ? []
        : [
            {
              path: ["functions", id, "positions", 0],
              message: 'no position of this wheel is "open"',
              instead: `is: open, for the one that leaves the light as it is (here "${positions[0]?.is}"?)`,
            },
          ],
    ),
};

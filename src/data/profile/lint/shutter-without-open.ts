import { bandOf } from "../profile.ts";
import { functionsOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** A shutter of which the profile does not say where it is open. */
export const shutterWithoutOpen: ProfileRule = {
  name: "shutter-without-open",
  why: "Without a level for open every step that wants light stays dark.",
  find: (read) =>
    functionsOf(read, "banded").flatMap(([id, spec]) =>
      id !== "Shutter1" || bandOf(spec, "open")
        ? []
        : [
            {
              path: ["functions", id, "bands"],
              message: 'no band of the shutter is "open"',
              instead: "- { from: 32, to: 63, is: open } with the chart's levels",
            },
          ],
    ),
};

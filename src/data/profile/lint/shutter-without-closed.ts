import { bandOf } from "../profile.ts";
import { functionsOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** A shutter of which the profile does not say where it is closed. */
export const shutterWithoutClosed: ProfileRule = {
  name: "shutter-without-closed",
  why: "Between steps and at every ending the beam is shut, and only a level for closed does that quickly.",
  find: (read) =>
    functionsOf(read, "banded").flatMap(([id, spec]) =>
      id !== "Shutter1" || bandOf(spec, "closed")
        ? []
        : [
            {
              path: ["functions", id, "bands"],
              message: 'no band of the shutter is "closed"',
              instead: "- { from: 0, to: 31, is: closed } with the chart's levels",
            },
          ],
    ),
};

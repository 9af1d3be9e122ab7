import { lookFor } from "../base.ts";
import type { SequenceRule } from "./rule.ts";

/** A step that wants light and is dark on every fixture, since it leaves the directions in which the beam may be open. */
export const lightNeverSeen: SequenceRule = {
  name: "light-never-seen",
  why: "It is played in the dark, where what it is to show cannot be seen.",
  find: ({ sequence, timelines }) =>
    sequence.steps.flatMap((step, index) => {
      const fitting = timelines.flatMap(({ steps }) => (steps[index]?.fitted ? [steps[index]] : []));
      return lookFor(step) === "dark" || fitting.length === 0 || fitting.some(({ beam }) => beam === "open")
        ? []
        : [
            {
              path: ["steps", index],
              message: "wants light, and moves out of the directions in which this bench allows it",
              instead: "smaller movements (deg: 15), or beam: shut when it is for the ear",
            },
          ];
    }),
};

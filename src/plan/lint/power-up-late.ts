import type { SequenceRule } from "./rule.ts";

/** A power-up in the middle, where nothing was done by hand with the mains off. */
export const powerUpLate: SequenceRule = {
  name: "power-up-late",
  why: "Homing tells most when it is watched cold; later the mains has to go off in the middle of a run.",
  find: ({ sequence: { steps, byHand } }) =>
    steps.flatMap(({ routine }, index) =>
      routine === "power-up" && index > 0 && !byHand.some(({ before }) => before === index)
        ? [
            {
              path: ["steps", index],
              message: "a power-up in the middle of the run",
              instead: "power-up: fixture first of all, or home: fixture here",
            },
          ]
        : [],
    ),
};

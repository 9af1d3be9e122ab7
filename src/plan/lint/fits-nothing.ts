import { functionWords } from "../../domain/trade/functions.ts";
import { ROUTINES } from "../../domain/trade/routines.ts";
import type { SequenceRule } from "./rule.ts";

/** A routine on a function to which no kind of fixture lends itself. */
export const fitsNothing: SequenceRule = {
  name: "fits-nothing",
  why: "A step that fits no fixture is never played, and nobody notices that it is missing.",
  find: ({ sequence, timelines }) =>
    sequence.steps.flatMap(({ routine, functions }, index) => {
      const played = new Set(timelines.flatMap(({ steps }) => (steps[index]?.fitted ? steps[index].functions : [])));
      const whole = functions.length === 0 && timelines.every(({ steps }) => !steps[index]?.fitted);
      const idle = functions.filter((id) => !played.has(id));
      return whole || idle.length > 0
        ? [
            {
              path: ["steps", index],
              message: `"${ROUTINES[routine].words}" fits ${whole ? "no fixture" : `${idle.map(functionWords).join(", ")} of no fixture`} here`,
              instead:
                "a routine that suits it: sweep for what travels, step-through for a wheel, in-and-out for a leaf",
            },
          ]
        : [];
    }),
};

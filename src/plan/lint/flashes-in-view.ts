import { MOST_FLASHES } from "../flashes.ts";
import type { SequenceRule } from "./rule.ts";

/** More than three flashes a second (WCAG 2.2, 2.3.1), had the beam been open: such a step is played dark, or not at all. */
export const flashesInView: SequenceRule = {
  name: "flashes-in-view",
  why: "More than three flashes in a second can bring a seizure on in somebody who is in the room.",
  find: ({ sequence, timelines }) =>
    sequence.steps.flatMap((_, index) => {
      const most = Math.max(0, ...timelines.map(({ steps }) => steps[index]?.flashes ?? 0));
      return most <= MOST_FLASHES
        ? []
        : [
            {
              path: ["steps", index],
              message: `${most} flashes in a second: it is played dark, or not at all`,
              instead: "a longer dwell_s or more seconds, or beam: shut",
            },
          ];
    }),
};

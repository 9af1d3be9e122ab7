import type { ProfileRule } from "./rule.ts";

/** Charts put a fine slot beside its coarse one, or pan and tilt first and their fine slots after: never far away. */
const FARTHEST = 3;

/** A fine slot far from its coarse one. */
export const fineSlotFar: ProfileRule = {
  name: "fine-slot-far",
  why: "A wrong fine slot moves something else a little whenever this function moves.",
  find: ({ profile }) =>
    [...profile.functions].flatMap(([id, { slots }]) =>
      slots.flatMap((slot, index) => {
        const before = slots[index - 1];
        return before === undefined || slot - before <= FARTHEST
          ? []
          : [
              {
                path: ["functions", id, "slots", index],
                message: `fine slot ${slot} is ${slot - before} slots away from ${before}`,
                instead: `the slot that the chart calls fine, often [${slots[0]}, ${(slots[0] ?? 0) + 1}]`,
              },
            ];
      }),
    ),
};

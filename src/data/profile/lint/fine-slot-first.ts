import type { ProfileRule } from "./rule.ts";

/** A fine slot that comes before its coarse one. */
export const fineSlotFirst: ProfileRule = {
  name: "fine-slot-first",
  why: "With the fine slot taken for the coarse one the function trembles or jumps instead of travelling.",
  find: ({ profile }) =>
    [...profile.functions].flatMap(([id, { slots }]) =>
      slots.some((slot, index) => slot < (slots[index - 1] ?? 0))
        ? [
            {
              path: ["functions", id, "slots"],
              message: "a fine slot stands before its coarse one",
              instead: `coarse first: [${[...slots].sort((a, b) => a - b).join(", ")}]`,
            },
          ]
        : [],
    ),
};

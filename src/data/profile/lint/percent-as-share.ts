import { functionsOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** 0 to 1 where 0 to 100 is meant. */
export const percentAsShare: ProfileRule = {
  name: "percent-as-share",
  why: "A travel of one percent makes every level of a sequence the same end of it.",
  find: (read) =>
    functionsOf(read, "travel").flatMap(([id, { from, to, unit }]) =>
      unit !== "pct" || Math.max(from, to) > 1
        ? []
        : [
            {
              path: ["functions", id, "to_pct"],
              message: `a travel from ${from} to ${to} percent`,
              instead: `from_pct: ${from * 100}, to_pct: ${to * 100}`,
            },
          ],
    ),
};

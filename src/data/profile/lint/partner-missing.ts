import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { ProfileRule } from "./rule.ts";

/** What comes together or not at all (common practice, no source). */
const SETS: readonly (readonly FunctionId[])[] = [
  ["Pan", "Tilt"],
  ["ColorSub_C", "ColorSub_M", "ColorSub_Y"],
  ["ColorAdd_R", "ColorAdd_G", "ColorAdd_B"],
  ["Blade1A", "Blade1B"],
  ["Blade2A", "Blade2B"],
  ["Blade3A", "Blade3B"],
  ["Blade4A", "Blade4B"],
];

/** One of a set, without the others. */
export const partnerMissing: ProfileRule = {
  name: "partner-missing",
  why: "A line of the chart was passed over, and what it drives is neither tested nor at rest.",
  find: ({ profile }) =>
    SETS.flatMap((set) => {
      const missing = set.filter((id) => !profile.functions.has(id));
      const there = set.find((id) => profile.functions.has(id));
      return there === undefined || missing.length === 0
        ? []
        : [
            {
              path: ["functions", there],
              at: "key" as const,
              message: `${there} is there, ${missing.join(" and ")} not`,
              instead: `the slots of ${missing.join(" and ")}`,
            },
          ];
    }),
};

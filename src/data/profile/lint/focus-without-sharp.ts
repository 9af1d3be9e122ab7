import { functionsOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** A focus of which nobody says where a gobo is sharp. */
export const focusWithoutSharp: ProfileRule = {
  name: "focus-without-sharp",
  why: "Gobos, prism and zoom are judged by a sharp picture: without its place they are judged soft.",
  find: (read) =>
    functionsOf(read, "travel").flatMap(([id, { sharp }]) =>
      id !== "Focus1" || sharp !== undefined
        ? []
        : [
            {
              path: ["functions", id],
              at: "key" as const,
              message: "Focus1 does not say where a gobo is sharp on the wall",
              instead: "sharp_pct: 55, as seen at your distance",
            },
          ],
    ),
};

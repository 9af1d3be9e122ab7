import { functionsOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** Two commands at one level. */
export const commandsAlike: ProfileRule = {
  name: "commands-alike",
  why: "Whoever asks for the one gets the other: a reset, or the lamp off in the middle of a test.",
  find: (read) =>
    functionsOf(read, "commands").flatMap(([id, { commands }]) =>
      commands.flatMap(({ is, at }, index) => {
        const first = commands.slice(0, index).find((other) => other.at === at);
        return first
          ? [
              {
                path: ["functions", id, "commands", index, "at"],
                message: `${is} stands at ${at}, as ${first.is} does`,
                instead: "a level in the middle of the chart's range for it",
              },
            ]
          : [];
      }),
    ),
};

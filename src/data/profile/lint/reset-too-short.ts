import type { Seconds } from "../../../domain/units.ts";
import { functionsOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** Quicker no moving light finds all its homes (judgement). */
const SHORTEST: Seconds = 5;

/** A reset after which the fixture would listen at once. */
export const resetTooShort: ProfileRule = {
  name: "reset-too-short",
  why: "What comes while it still homes is not heard, and the next step is called a fault.",
  find: (read) =>
    functionsOf(read, "commands").flatMap(([id, { commands }]) =>
      commands.flatMap(({ is, deaf }, index) =>
        is !== "reset" || deaf >= SHORTEST
          ? []
          : [
              {
                path: ["functions", id, "commands", index, "then_s"],
                message: `listens again ${deaf} s after a reset`,
                instead: `then_s: ${read.profile.powerUp}, as long as after the mains goes on`,
              },
            ],
      ),
    ),
};

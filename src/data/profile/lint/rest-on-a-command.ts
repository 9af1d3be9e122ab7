import { functionsOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** So near to its level a command may still be taken (judgement). */
const NEAR = 5;

/** A control slot that rests where a command is. */
export const restOnACommand: ProfileRule = {
  name: "rest-on-a-command",
  why: "At rest the slot is held for minutes: the fixture would reset, or its lamp go out, again and again.",
  find: (read) =>
    functionsOf(read, "commands").flatMap(([id, { rest, commands }]) => {
      const command = commands.find(({ at }) => Math.abs(at - rest) <= NEAR);
      return command
        ? [
            {
              path: ["functions", id, "rest"],
              message: `rests at ${rest}, where "${command.is}" is`,
              instead: 'rest: the level that the chart calls "no function"',
            },
          ]
        : [];
    }),
};

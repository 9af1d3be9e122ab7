import { aboutBands } from "./bands.ts";
import type { ProfileRule } from "./rule.ts";

/** Turns a minute; faster no gobo or prism turns (judgement). */
const FASTEST = 300;

/** A rotation faster than rotations are. */
export const turnTooFast: ProfileRule = {
  name: "turn-too-fast",
  why: "Degrees a second taken for turns a minute are six times too fast.",
  find: (read) =>
    aboutBands(read, "turn", ({ range }) => {
      const fastest = Math.max(...(range ?? [0]).map(Math.abs));
      return fastest <= FASTEST
        ? undefined
        : {
            message: `${fastest} turns a minute`,
            instead: `turns a minute: ${Math.round(fastest / 6)} if the chart counts degrees a second`,
          };
    }),
};

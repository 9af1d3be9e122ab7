import type { Hertz } from "../../../domain/units.ts";
import { aboutBands } from "./bands.ts";
import type { ProfileRule } from "./rule.ts";

/** Faster no strobe of a moving light is (judgement). */
const FASTEST: Hertz = 35;

/** A strobe faster than strobes are. */
export const strobeTooFast: ProfileRule = {
  name: "strobe-too-fast",
  why: "Flashes a minute or a level taken for flashes a second hide how fast the strobe really is.",
  find: (read) =>
    aboutBands(read, "strobe", ({ range }) => {
      const fastest = Math.max(...(range ?? [0]));
      return fastest <= FASTEST
        ? undefined
        : {
            message: `strobe of ${fastest} flashes a second`,
            instead: `flashes a second: ${Math.round(fastest / 6) / 10} if the chart counts them by the minute`,
          };
    }),
};

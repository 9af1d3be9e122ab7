import type { Seconds } from "../../../domain/units.ts";
import type { ProfileRule } from "./rule.ts";

/** Quicker no moving light finds all its homes (judgement). */
const SHORTEST: Seconds = 5;

/** A fixture that would be ready as soon as it has power. */
export const powerUpTooShort: ProfileRule = {
  name: "power-up-too-short",
  why: "It is deaf while it homes: a test begun too early is a test of nothing.",
  find: ({ written }) =>
    written.power_up_s >= SHORTEST
      ? []
      : [
          {
            path: ["power_up_s"],
            message: `homes in ${written.power_up_s} s`,
            instead: `seconds from the mains on: ${written.power_up_s * 60} if these are minutes`,
          },
        ],
};

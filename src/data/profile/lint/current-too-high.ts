import type { ProfileRule } from "./rule.ts";

/** Amperes; more no single moving light takes (judgement). */
const MOST = 20;

/** Watts or milliamperes where amperes are meant. */
export const currentTooHigh: ProfileRule = {
  name: "current-too-high",
  why: "Starts are spread by this number: watts taken for amperes leave one fixture on a circuit.",
  find: ({ written: { running_a } }) =>
    running_a === undefined || running_a <= MOST
      ? []
      : [
          {
            path: ["running_a"],
            message: `${running_a} amperes`,
            instead: `amperes: ${Math.round((running_a / 230) * 10) / 10} if these are watts at 230 V`,
          },
        ],
};

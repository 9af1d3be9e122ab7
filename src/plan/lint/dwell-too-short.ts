import type { Seconds } from "../../domain/units.ts";
import type { SequenceRule } from "./rule.ts";

/** A person takes 0.3 to 0.6 s to press (judgement); less than half of that is not seen at all. */
const SHORTEST: Seconds = 0.25;

/** Stands for so short a time that nobody can judge it. */
export const dwellTooShort: SequenceRule = {
  name: "dwell-too-short",
  why: "What has moved on before anybody can look is not tested.",
  find: ({ sequence: { steps } }) =>
    steps.flatMap(({ options: { dwell_s } }, index) =>
      dwell_s !== undefined && dwell_s < SHORTEST
        ? [
            {
              path: ["steps", index, "dwell_s"],
              message: `stands for only ${dwell_s} s`,
              instead: `dwell_s: ${SHORTEST} or more`,
            },
          ]
        : [],
    ),
};

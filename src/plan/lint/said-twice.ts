import type { Step } from "../../data/sequence/sequence.ts";
import type { SequenceRule } from "./rule.ts";

/** The very same step twice in a row. Homing again and again is a test of its own: does it find the same place each time? */
export const saidTwice: SequenceRule = {
  name: "said-twice",
  why: "It costs its time again and shows nothing that the first did not.",
  find: ({ sequence: { steps, byHand } }) =>
    steps.flatMap((step, index) =>
      isAgain(step, steps[index - 1]) && !byHand.some(({ before }) => before === index)
        ? [
            {
              path: ["steps", index],
              message: "the same step as the one before",
              instead: "once, with more passes or times",
            },
          ]
        : [],
    ),
};

const isAgain = (step: Step, before: Step | undefined): boolean =>
  step.routine !== "home" && sameAs(step) === sameAs(before);

const sameAs = (step: Step | undefined): string =>
  JSON.stringify(step && [step.routine, step.functions, Object.entries(step.options).sort()]);

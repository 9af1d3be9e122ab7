import { expect, test } from "vitest";
import { crowdHere, goFirst } from "../../../src/io/clock/crowded.ts";
import type { Clock } from "../../../src/run/ports.ts";
import { handClock } from "../../kit/hand-clock.ts";

/** A clock that is through at once, and leaves out so many frames. */
const through = (leftOut: number): Clock => ({
  ...handClock(),
  start: (onTick) => {
    let running = true;
    queueMicrotask(() => {
      for (let frame = leftOut; frame < 80 && running; frame += 1) onTick({ frame, late: 0 });
    });
    return () => {
      running = false;
    };
  },
});

test.each([0, 7])("of the frames of two seconds %i were left out", async (leftOut) => {
  expect(await crowdHere(through(leftOut))).toMatchObject({ late: leftOut, of: 80 });
});

test.each<{ given: number; allows: boolean; is: string; because: string }>([
  { given: 0, allows: true, is: "raised", because: "the system allows it" },
  { given: 0, allows: false, is: "not allowed", because: "it is for administrators alone" },
  { given: 10, allows: true, is: "as it was given", because: "somebody gave it on purpose" },
])("frames go before other programs, or not: $because", ({ given, allows, is }) => {
  let raised = false;
  const raise = () => {
    if (!allows) throw new Error("EACCES");
    raised = true;
  };
  expect(goFirst({ given: () => given, raise })).toBe(is);
  expect(raised).toBe(is === "raised");
});

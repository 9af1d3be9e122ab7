import { expect, test } from "vitest";
import { digestOf, readingProfiles } from "../../../src/run/events/digest.ts";
import { eventsOf, foundBody, type Happened } from "../memory/happened.ts";

/** What a run teaches the shop: what was found and what was not, or that a whole fixture was good. */
const lessonOf = (happened: Partial<Happened>) =>
  digestOf(eventsOf({ run: "r1", ...happened }), readingProfiles())?.lesson;

const PASSED = [{ of: "Pan", result: "pass" }] as const;
const FAILED = [{ of: "Pan", result: "fail", symptoms: [{ symptom: "jerks", function: "Pan" }] }] as const;

test("a run in which a fault was found teaches that fault, and knows nothing of what nobody looked for", () => {
  expect(lessonOf({ steps: FAILED, after: [foundBody("pan-belt-slack")] })).toMatchObject({
    confirmed: ["pan-belt-slack"],
    rest: "unknown",
  });
});

test("a run that was played to its end with nothing reported teaches a good fixture", () => {
  const notFitted = [...PASSED, { of: "Iris", result: "not-fitted" }] as const;
  for (const steps of [PASSED, notFitted]) expect(lessonOf({ steps })).toMatchObject({ confirmed: [], rest: "absent" });
});

test.each<{ happened: Partial<Happened>; because: string }>([
  { happened: { steps: PASSED, ended: "stopped" }, because: "the rest of the plan was never watched" },
  { happened: { steps: PASSED, ended: "open" }, because: "it may still be going on" },
  { happened: { steps: FAILED }, because: "nobody said what was found" },
  { happened: { steps: PASSED, replays: "r0" }, because: "a repeated run belongs to the run before the repair" },
  { happened: { steps: PASSED, simulated: true }, because: "a simulation has no wear of its own" },
  {
    happened: { steps: FAILED, after: [foundBody("pan-belt-slack")], simulated: true },
    because: "its fault was put in, whatever was found",
  },
])("nothing is learned where $because", ({ happened }) => {
  expect(lessonOf(happened)).toBeUndefined();
});

import { expect, test } from "vitest";
import { travelOf } from "../../../src/data/profile/profile.ts";
import { patternSymptoms } from "../../../src/diagnosis/places/assessment.ts";
import { spot } from "./kit/rig.ts";

const pan = travelOf(spot, "Pan")!;
const at = (low: number, high: number) => ({ at: (low + high) / 2, low, high });

/** What each speaks for: common practice, no source. */
test.each([
  { pattern: { kind: "position" }, place: at(80, 90), symptoms: ["at-one-place"] },
  { pattern: { kind: "one-way", way: "up" }, place: at(80, 120), symptoms: ["one-way-only"] },
  { pattern: { kind: "one-way", way: "up" }, place: undefined, symptoms: ["one-way-only"] },
  { pattern: { kind: "one-way", way: "down" }, place: at(-270, -246), symptoms: ["near-an-end"] },
  { pattern: { kind: "one-way", way: "up" }, place: at(250, 268), symptoms: ["near-an-end"] },
  { pattern: { kind: "low-end" }, place: undefined, symptoms: ["near-an-end"] },
  { pattern: { kind: "high-end" }, place: undefined, symptoms: ["near-an-end"] },
  { pattern: { kind: "both-ends" }, place: undefined, symptoms: ["near-an-end"] },
  { pattern: { kind: "no-place" }, place: undefined, symptoms: ["at-no-place"] },
  { pattern: { kind: "turn-rounds" }, place: undefined, symptoms: [] },
] as const)("on pan, $pattern.kind with the place $place is the symptom $symptoms", ({ pattern, place, symptoms }) => {
  expect(patternSymptoms({ pattern, place, belief: 0.99 }, pan, "pan-drive")).toEqual(symptoms);
});

test.each([
  { mechanism: "gobo wheels have no ends", id: "colour-wheel", kind: "low-end" },
  { mechanism: "emitters do not move", id: "light-engine", kind: "position" },
] as const)("nothing that the mechanism cannot show: $mechanism", ({ id, kind }) => {
  expect(patternSymptoms({ pattern: { kind }, place: undefined, belief: 0.99 }, pan, id)).toEqual([]);
});

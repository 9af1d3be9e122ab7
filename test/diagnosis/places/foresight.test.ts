import { expect, test } from "vitest";
import { travelOf } from "../../../src/data/profile/profile.ts";
import { beliefsOf } from "../../../src/diagnosis/places/beliefs.ts";
import { chanceToSettle, likelyInset } from "../../../src/diagnosis/places/follow-up.ts";
import { watchOf } from "../../../src/diagnosis/places/watch.ts";
import { spot, stepOf } from "./kit/rig.ts";
import { KEEN, watched } from "./kit/session.ts";

const FULL = stepOf("{ sweep: Pan, deg_per_s: 60, passes: 10 }");
const unplayed = (text: string) => watchOf(spot, stepOf(text), "Pan", [])!;
const MORE = unplayed("{ sweep: Pan, deg_per_s: 60, passes: 6 }");
const SHORT = unplayed("{ short-sweep: Pan, deg_per_s: 60, passes: 6 }");

test("more full sweeps are not credited with settling an end, a short sweep is", () => {
  const watches = watched([FULL], { kind: "ends", low: true, high: true }, KEEN);
  const beliefs = beliefsOf(watches);
  expect(chanceToSettle(watches, MORE, beliefs)).toBe(0);
  expect(chanceToSettle(watches, SHORT, beliefs)).toBeGreaterThan(0.9);
});

test("what would be settled wrongly is not credited", () => {
  const watches = watched([FULL], { kind: "position", place: 90 }, KEEN);
  const wrong = [{ pattern: { kind: "low-end" }, belief: 1, place: undefined }] as const;
  // Ten presses at one place outweigh what an end would bring in a short sweep, which is nothing.
  expect(chanceToSettle(watches, SHORT, wrong)).toBe(0);
});

const pan = travelOf(spot, "Pan")!;
const rival = (at: number, belief = 0.3) =>
  ({ pattern: { kind: "one-way", way: "up" }, belief, place: { at, low: at - 5, high: at + 5 } }) as const;

test.each([
  { beliefs: [], pct: 15, because: "with no hint the usual way off" },
  {
    beliefs: [rival(-216)],
    pct: 5,
    because: "half as far as the place that rivals the end, so that it is still crossed",
  },
  { beliefs: [rival(240)], pct: 2, because: "at the high end as at the low" },
  { beliefs: [rival(-266)], pct: 2, because: "but never so near that it would touch the end" },
  { beliefs: [rival(0)], pct: 15, because: "a place in the middle is crossed anyway" },
  { beliefs: [rival(-216, 0.001)], pct: 15, because: "what hardly anybody believes does not count" },
])("a short sweep stops $pct % short: $because", ({ beliefs, pct }) => {
  expect(likelyInset(beliefs, pan)).toBe(pct);
});

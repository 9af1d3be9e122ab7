import { expect, test } from "vitest";
import { settledIn } from "../../../src/diagnosis/places/assessment.ts";
import { beliefsOf } from "../../../src/diagnosis/places/beliefs.ts";
import type { Pattern } from "../../../src/diagnosis/places/pattern.ts";
import { chanceFrom } from "../../../src/sim/chance.ts";
import type { Truth } from "./kit/presser.ts";
import { stepOf } from "./kit/rig.ts";
import { KEEN, ordinary, watched } from "./kit/session.ts";

const FULL = stepOf("{ sweep: Pan, deg_per_s: 60, passes: 10 }");
const SHORT = stepOf("{ short-sweep: Pan, deg_per_s: 60, passes: 6 }");

const CASES: readonly { readonly truth: Truth; readonly pattern: Pattern; readonly full: boolean }[] = [
  { truth: { kind: "position", place: 90 }, pattern: { kind: "position" }, full: true },
  { truth: { kind: "one-way", place: -40, way: "down" }, pattern: { kind: "one-way", way: "down" }, full: true },
  { truth: { kind: "ends", low: true, high: false }, pattern: { kind: "low-end" }, full: false },
  { truth: { kind: "ends", low: false, high: true }, pattern: { kind: "high-end" }, full: false },
  { truth: { kind: "ends", low: true, high: true }, pattern: { kind: "both-ends" }, full: false },
  { truth: { kind: "turn-rounds" }, pattern: { kind: "turn-rounds" }, full: false },
];

test.each(CASES)("$truth.kind is settled as $pattern.kind once a short sweep was played", ({ truth, pattern }) => {
  const watches = watched([FULL, SHORT], truth, KEEN);
  expect(settledIn(beliefsOf(watches), watches)?.pattern).toEqual(pattern);
});

test.each(CASES)("$truth.kind after full sweeps alone: settled $full", ({ truth, full }) => {
  const watches = watched([FULL], truth, KEEN);
  expect(settledIn(beliefsOf(watches), watches) !== undefined).toBe(full);
});

test("presses all over the travel speak for no place, and some more of them settle it", () => {
  const more = stepOf("{ sweep: Pan, deg_per_s: 60, passes: 30 }");
  const watches = watched([more], { kind: "no-place", perSecond: 0.2 }, KEEN);
  expect(settledIn(beliefsOf(watches), watches)?.pattern).toEqual({ kind: "no-place" });
});

test("a single press settles nothing", () => {
  const [watch] = watched([FULL], { kind: "position", place: 90 }, KEEN);
  const watches = [{ ...watch!, presses: watch!.presses.slice(0, 1) }];
  expect(settledIn(beliefsOf(watches), watches)).toBeUndefined();
});

test("beliefs add up to one and do not depend on the order of the steps", () => {
  const watches = watched(
    [FULL, SHORT],
    { kind: "one-way", place: 20, way: "up" },
    ordinary(chanceFrom(4)),
    chanceFrom(9),
  );
  const there = beliefsOf(watches);
  const back = beliefsOf([...watches].reverse());
  expect(there.reduce((sum, { belief }) => sum + belief, 0)).toBeCloseTo(1, 9);
  for (const { pattern, belief } of there)
    expect(back.find((other) => JSON.stringify(other.pattern) === JSON.stringify(pattern))?.belief).toBeCloseTo(
      belief,
      9,
    );
});

test("the trap: with a stop at the end, simulated with misses and false presses, no place is ever settled", () => {
  for (let seed = 0; seed < 12; seed++) {
    const chance = chanceFrom(seed);
    const watches = watched([FULL], { kind: "ends", low: true, high: true }, ordinary(chance), chance);
    const [first] = beliefsOf(watches);
    expect(["both-ends", "low-end", "high-end", "turn-rounds"], `seed ${seed}`).toContain(first?.pattern.kind);
  }
});

test("with presses one way only the place is told with the doubt about the reaction in it", () => {
  const watches = watched([FULL], { kind: "one-way", place: -40, way: "down" }, { ...KEEN, slowness: 0.2 });
  const place = beliefsOf(watches)[0]?.place;
  expect(place!.low).toBeLessThan(-40);
  expect(place!.high).toBeGreaterThan(-40);
  expect(place!.high - place!.low).toBeGreaterThan(60 * 0.4);
});

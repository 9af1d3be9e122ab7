import fc from "fast-check";
import { expect, test } from "vitest";
import { detectionOf } from "../../../src/diagnosis/places/detection.ts";

test("82 hits of 100 and 46 false alarms of 100: d' 1.002793, c -.4019603 (documentation of the R package statpsych, signal())", () => {
  const found = detectionOf({ hits: 82, misses: 18, falseAlarms: 46, rightlyQuiet: 54 });
  expect(found?.sensitivity).toBeCloseTo(1.002793, 6);
  expect(found?.criterion).toBeCloseTo(-0.4019603, 7);
});

test("nothing missed and nothing imagined is no endless sensitivity: half a case in every cell (Hautus 1995)", () => {
  // (10.5 / 11) and (0.5 / 11), scipy 1.17 scipy.stats.norm.ppf: 2 x 1.6906216295848984.
  expect(detectionOf({ hits: 10, misses: 0, falseAlarms: 0, rightlyQuiet: 10 })?.sensitivity).toBeCloseTo(
    3.381243259,
    8,
  );
});

test.each([
  { tally: { hits: 0, misses: 0, falseAlarms: 1, rightlyQuiet: 9 }, because: "nothing was ever there" },
  { tally: { hits: 5, misses: 1, falseAlarms: 0, rightlyQuiet: 0 }, because: "something always was" },
])("nothing can be said when $because", ({ tally }) => {
  expect(detectionOf(tally)).toBeUndefined();
});

test("who presses as often for nothing as for something is guessing", () => {
  fc.assert(
    fc.property(fc.nat(30), fc.nat(30), (yes, no) => {
      fc.pre(yes + no > 0);
      const found = detectionOf({ hits: yes, misses: no, falseAlarms: yes, rightlyQuiet: no });
      expect(found?.sensitivity).toBeCloseTo(0, 12);
    }),
  );
});

test("one more hit never makes a watcher less sensitive", () => {
  const count = fc.nat(30);
  fc.assert(
    fc.property(
      count,
      fc.integer({ min: 1, max: 30 }),
      count,
      fc.integer({ min: 1, max: 30 }),
      (hits, misses, falseAlarms, rightlyQuiet) => {
        const before = detectionOf({ hits, misses, falseAlarms, rightlyQuiet })!;
        const after = detectionOf({ hits: hits + 1, misses: misses - 1, falseAlarms, rightlyQuiet })!;
        expect(after.sensitivity).toBeGreaterThan(before.sensitivity);
      },
    ),
  );
});

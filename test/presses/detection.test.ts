import fc from "fast-check";
import { expect, test } from "vitest";
import { detectionOf, normalQuantile } from "../../src/presses/detection.ts";
import { shareOf } from "../../src/presses/shares.ts";

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

/** scipy 1.17, scipy.stats.norm.ppf. */
test.each([
  { probability: 0.5, z: 0 },
  { probability: 0.975, z: 1.959963984540054 },
  { probability: 0.001, z: -3.090232306167813 },
])("the normal quantile of $probability is $z", ({ probability, z }) => {
  expect(normalQuantile(probability)).toBeCloseTo(z, 10);
});

/** Wilson 1927; values agreed by independent programs. */
test.each([
  { hits: 8, of: 10, low: 0.490162, high: 0.943318 },
  { hits: 0, of: 10, low: 0, high: 0.277533 },
  { hits: 3, of: 5, low: 0.230724, high: 0.882379 },
  { hits: 17, of: 24, low: 0.508323, high: 0.850854 },
])("$hits of $of is between $low and $high", ({ hits, of, low, high }) => {
  const share = shareOf(hits, of);
  expect(share.low).toBeCloseTo(low, 6);
  expect(share.high).toBeCloseTo(high, 6);
});

test("of nothing, everything is possible", () => {
  expect(shareOf(0, 0)).toEqual({ hits: 0, of: 0, low: 0, high: 1 });
});

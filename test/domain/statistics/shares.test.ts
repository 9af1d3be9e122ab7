import { expect, test } from "vitest";
import { jeffreys, shareOf } from "../../../src/domain/statistics/shares.ts";

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

/** Values agreed by independent programs. */
test.each([
  [8, 10, 0.497226, 0.955941],
  [0, 10, 0, 0.217196],
])("Jeffreys: %d of %d lie between %d and %d", (yes, of, low, high) => {
  expect(jeffreys(yes, of).low).toBeCloseTo(low, 6);
  expect(jeffreys(yes, of).high).toBeCloseTo(high, 6);
});

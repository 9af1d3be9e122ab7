import fc from "fast-check";
import { expect, test } from "vitest";
import { foundPlace } from "../../../src/diagnosis/places/found-place.ts";
import type { PlacedPress } from "../../../src/diagnosis/places/spots.ts";

const speed = 60;
const spots = (give: number | undefined): readonly PlacedPress[] =>
  [0.41, 0.44, 0.39, 0.47, 0.43].flatMap((delay) =>
    (["up", "down"] as const).map((way): PlacedPress => {
      const velocity = way === "up" ? speed : -speed;
      const press: PlacedPress = { place: 90 + velocity * delay, velocity, way, press: 0 };
      return give === undefined ? press : { ...press, give };
    }),
  );
const width = (give: number | undefined) => {
  const interval = foundPlace(spots(give))?.interval;
  return interval ? interval.high - interval.low : Number.NaN;
};

test("a place from a phone is given as less sure than the same from a key, by the mean of what each press may be off", () => {
  // Ten presses, each even within 0.1 s at 60 degrees a second: 1.96 x 6 / sqrt(3) / sqrt(10) = 2.147 degrees at either side.
  expect(width(0.1) - width(undefined)).toBeCloseTo(2 * 2.147, 2);
  expect(width(0)).toBe(width(undefined));
});

test("the more a press may be off, the wider the interval", () => {
  const give = fc.double({ min: 0, max: 1, noNaN: true });
  fc.assert(
    fc.property(give, give, (a, b) => {
      expect(width(Math.max(a, b))).toBeGreaterThanOrEqual(width(Math.min(a, b)));
    }),
  );
});

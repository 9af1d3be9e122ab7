import { expect, test } from "vitest";
import { delayBetween, meanPlace } from "../../../src/diagnosis/places/found-place.ts";

const UP = [109.2, 114.6, 111.0, 121.2, 112.8];
const DOWN = [68.4, 70.2, 63.0, 66.0, 53.4];

test("the pinned presses give 88.98, SE 1.803996, Welch interval 84.7327 to 93.2273 and a delay of .413 s (worked independently)", () => {
  const place = meanPlace(UP, DOWN);
  expect(place?.at).toBeCloseTo(88.98, 10);
  expect(place?.error).toBeCloseTo(1.803996, 6);
  expect(place?.interval?.low).toBeCloseTo(84.7327, 4);
  expect(place?.interval?.high).toBeCloseTo(93.2273, 4);
  expect(delayBetween(UP, DOWN, 60)).toBeCloseTo(0.413, 10);
});

test("a single press one way gives a place without an error", () => {
  expect(meanPlace([110], DOWN)).toEqual({ at: (110 + 64.2) / 2, error: undefined, interval: undefined });
});

test("presses one way only give neither a place nor a delay", () => {
  expect(meanPlace([], DOWN)).toBeUndefined();
  expect(delayBetween(UP, [], 60)).toBeUndefined();
});

import { expect, test } from "vitest";
import { delayBetween, meanPlace } from "../../src/presses/mean-place.ts";
import { studentQuantile } from "../../src/presses/student.ts";

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

/** scipy 1.17, scipy.stats.t.ppf. */
test.each([
  { probability: 0.975, freedom: 1, t: 12.706204736174694 },
  { probability: 0.975, freedom: 1.3, t: 7.500529325562029 },
  { probability: 0.975, freedom: 2.5, t: 3.5746548420036817 },
  { probability: 0.975, freedom: 7, t: 2.364624251592784 },
  { probability: 0.975, freedom: 100, t: 1.9839715185235518 },
  { probability: 0.025, freedom: 7, t: -2.364624251592784 },
])("Student's t at $probability with $freedom degrees of freedom is $t", ({ probability, freedom, t }) => {
  expect(studentQuantile(probability, freedom)).toBeCloseTo(t, 6);
});

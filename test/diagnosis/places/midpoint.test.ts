import fc from "fast-check";
import { expect, test } from "vitest";
import { midpointMedian } from "../../../src/diagnosis/places/found-place.ts";
import { chanceFrom, exGaussian } from "../../../src/sim/chance.ts";

const UP = [109.2, 114.6, 111.0, 121.2, 112.8];
const DOWN = [68.4, 70.2, 63.0, 66.0, 53.4];

test("the pinned presses give 89.4 with the exact interval 83.1 to 93.6 (worked independently)", () => {
  const place = midpointMedian(UP, DOWN);
  expect(place?.at).toBeCloseTo(89.4, 10);
  expect(place?.interval?.low).toBeCloseTo(83.1, 10);
  expect(place?.interval?.high).toBeCloseTo(93.6, 10);
  expect(place?.interval?.coverage).toBeCloseTo(0.968254, 6);
});

test("three presses each way give a place and no interval", () => {
  expect(midpointMedian([109, 115, 111], [68, 70, 63])).toEqual({ at: 89.5, interval: undefined, up: 3, down: 3 });
});

test("presses one way only give no place", () => {
  expect(midpointMedian(UP, [])).toBeUndefined();
  expect(midpointMedian([], DOWN)).toBeUndefined();
});

test("a delay, whatever it is, does not move the place", () => {
  const presses = fc.array(fc.integer({ min: -200, max: 200 }), { minLength: 1, maxLength: 8 });
  fc.assert(
    fc.property(presses, presses, fc.integer({ min: 0, max: 100 }), (up, down, shift) => {
      const late = midpointMedian(
        up.map((place) => place + shift),
        down.map((place) => place - shift),
      );
      expect(late).toEqual(midpointMedian(up, down));
    }),
  );
});

test("one wild press moves the place by no more than the others are apart", () => {
  fc.assert(
    fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (wild) => {
      const place = midpointMedian([...UP.slice(1), wild], DOWN);
      expect(place!.at).toBeGreaterThan(82);
      expect(place!.at).toBeLessThan(96);
    }),
  );
});

/** At 60 degrees a second and a place at 90: ex-Gaussian reaction .30/.05/.10 s, an assumption. */
const simulated = (passes: number, seed: number) => {
  const chance = chanceFrom(seed);
  const presses = (sign: number) =>
    Array.from({ length: passes }, () => 90 + sign * 60 * exGaussian(chance, 0.3, 0.05, 0.1));
  return midpointMedian(presses(1), presses(-1));
};

test("simulated, the exact interval at 5 passes each way holds the place as often as it says, within four binomial errors", () => {
  const runs = 4000;
  const holds = Array.from({ length: runs }, (_, seed) => simulated(5, seed)?.interval).filter(
    (interval) => interval && interval.low <= 90 && interval.high >= 90,
  ).length;
  const says = 0.968254;
  expect(Math.abs(holds / runs - says)).toBeLessThan(4 * Math.sqrt((says * (1 - says)) / runs));
});

test("simulated, 5 clean passes each way miss the place by 1.93 degrees, root mean square (worked independently)", () => {
  const runs = 4000;
  const squares = Array.from({ length: runs }, (_, seed) => ((simulated(5, seed)?.at ?? 0) - 90) ** 2);
  expect(Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / runs)).toBeCloseTo(1.93, 1);
});

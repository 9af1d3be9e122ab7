import fc from "fast-check";
import { expect, test } from "vitest";
import { fitPlay } from "../../../src/diagnosis/places/spots.ts";

const at = (velocity: number, ...places: readonly number[]) => places.map((place) => ({ place, velocity }));
const TWO_SPEEDS = [...at(60, 115.2, 112.8), ...at(-60, 67.0, 64.9), ...at(20, 99.3, 98.7), ...at(-20, 81.5, 80.8)];

test("two speeds part place, play and delay (worked independently)", () => {
  const fit = fitPlay(TWO_SPEEDS);
  expect(fit?.at.value).toBeCloseTo(90.025, 10);
  expect(fit?.at.error).toBeCloseTo(0.37182, 6);
  expect(fit?.play.value).toBeCloseTo(1.375, 10);
  expect(fit?.play.error).toBeCloseTo(0.831414, 6);
  expect(fit?.delay.value).toBeCloseTo(0.3775, 10);
  expect(fit?.delay.error).toBeCloseTo(0.018591, 6);
});

test("without scatter it gives back what was put in", () => {
  const number = fc.double({ min: -100, max: 100, noNaN: true });
  fc.assert(
    fc.property(number, number, number, (place, play, delay) => {
      const spots = [60, -60, 20, -20].map((velocity) => ({
        place: place + Math.sign(velocity) * play + velocity * delay,
        velocity,
      }));
      const fit = fitPlay(spots);
      expect(fit?.at.value).toBeCloseTo(place, 6);
      expect(fit?.play.value).toBeCloseTo(play, 6);
      expect(fit?.delay.value).toBeCloseTo(delay, 6);
    }),
  );
});

test.each([
  { because: "one speed cannot part play from delay", spots: [...at(60, 115, 113), ...at(-60, 67, 65)] },
  { because: "one way cannot part the place from play", spots: [...at(60, 115, 113), ...at(20, 99, 98)] },
  { because: "two presses are fewer than the unknowns", spots: [...at(60, 115), ...at(-20, 81)] },
])("no fit: $because", ({ spots }) => {
  expect(fitPlay(spots)).toBeUndefined();
});

test("as many presses as unknowns give values without errors", () => {
  const fit = fitPlay([...at(60, 115), ...at(-60, 66), ...at(20, 99)]);
  expect(fit?.play.value).toBeDefined();
  expect(fit?.play.error).toBeUndefined();
});

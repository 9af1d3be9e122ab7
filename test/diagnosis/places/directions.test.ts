import { describe, expect, test } from "vitest";
import { foundPlace } from "../../../src/diagnosis/places/found-place.ts";
import type { PlacedPress } from "../../../src/diagnosis/places/spots.ts";
import { chanceFrom, exGaussian } from "../../../src/sim/chance.ts";

const PLACE = 90;
const RUNS = 600;

/** Presses of somebody with heavy tails at a fixture that answers `later` seconds later on the way up than on the way down. */
const presses = (seed: number, passes: number, speeds: readonly number[], later: number): readonly PlacedPress[] => {
  const chance = chanceFrom(seed * 7919 + 1);
  return speeds.flatMap((speed) =>
    Array.from({ length: passes }, () => [1, -1] as const).flatMap((ways) =>
      ways.flatMap((way): readonly PlacedPress[] => {
        const delay = 0.25 + (way * later) / 2 + exGaussian(chance, 0.3, 0.05, 0.1);
        const missed = chance() < 0.1;
        return missed
          ? []
          : [{ place: PLACE + way * speed * delay, velocity: way * speed, way: way > 0 ? "up" : "down", press: 0 }];
      }),
    ),
  );
};

const covered = (passes: number, speeds: readonly number[], later: number) => {
  const intervals = Array.from(
    { length: RUNS },
    (_, seed) => foundPlace(presses(seed, passes, speeds, later))?.interval,
  ).filter((one) => one !== undefined);
  const holds = intervals.filter(({ low, high }) => low <= PLACE && PLACE <= high).length;
  return { share: intervals.length / RUNS, holds: holds / Math.max(1, intervals.length) };
};

/** Simulated presses: they show that the arithmetic keeps its word, not that people press like this. */
describe("a 95 % interval holds the place whether or not the lag differs by direction", () => {
  test.each([
    [5, [60], 0],
    [5, [60], 0.15],
    [10, [60], 0.15],
    [10, [120], -0.15],
  ] as const)("%d passes at %j degrees a second, %d s later on the way up", (passes, speeds, later) => {
    const { share, holds } = covered(passes, speeds, later);
    expect(share).toBeGreaterThan(0.5);
    expect(holds).toBeGreaterThanOrEqual(0.93);
  });

  // One tail at each end suffices beside the stretch in which the place may lie (Imbens and Manski 2004); two held 97 % and more.
  test.each([
    [6, [60], 0.15],
    [10, [60], 0.15],
    [10, [120], -0.15],
  ] as const)("and is no wider than it must be where it differs most: %d passes, %j, %d s", (passes, speeds, later) => {
    const { holds } = covered(passes, speeds, later);
    expect(holds).toBeGreaterThanOrEqual(0.93);
    expect(holds).toBeLessThanOrEqual(0.97);
  });

  test("at one speed no interval can do both: what holds it where the lag differs holds it oftener where it does not", () => {
    expect(covered(10, [60], 0).holds).toBeGreaterThan(0.97);
  });

  test("two passes are too few: no interval rather than a false one", () => {
    expect(covered(2, [60], 0.15).share).toBe(0);
  });

  test("with two speeds it is told exactly: more passes make the interval narrower", () => {
    const wide = (passes: number) => {
      const { low, high } = foundPlace(presses(3, passes, [30, 120], 0.15))!.interval!;
      return high - low;
    };
    expect(wide(20)).toBeLessThan(wide(5));
  });
});

describe("two speeds tell the lag: the interval holds as often as it says, whether or not the lag differs", () => {
  test.each([
    [5, [30, 120], 0],
    [6, [30, 60], 0.15],
    [8, [60, 120], -0.15],
    [10, [30, 120], 0.15],
    [20, [30, 60], -0.15],
  ] as const)("%d passes at %j degrees a second, %d s later on the way up: 95 %, no more", (passes, speeds, later) => {
    const { share, holds } = covered(passes, speeds, later);
    expect(share).toBe(1);
    expect(holds).toBeGreaterThanOrEqual(0.93);
    expect(holds).toBeLessThanOrEqual(0.97);
  });

  // The same person at another fixture: the lag and the two speeds change how wide it is, not in which runs it holds.
  test("it holds in the very same runs at any two speeds, and however far the lag differs", () => {
    const runs = Array.from({ length: 100 }, (_, seed) => seed);
    const holdingAt = (speeds: readonly number[], later: number) =>
      runs.filter((seed) => {
        const { low, high } = foundPlace(presses(seed, 5, speeds, later))!.interval!;
        return low <= PLACE && PLACE <= high;
      });
    const usual = holdingAt([30, 120], 0);
    expect(usual.length).toBeLessThan(runs.length);
    for (const speeds of [
      [30, 60],
      [60, 120],
      [30, 120],
    ])
      for (const later of [-0.15, 0, 0.15]) expect(holdingAt(speeds, later), `${speeds}, ${later}`).toEqual(usual);
  });
});

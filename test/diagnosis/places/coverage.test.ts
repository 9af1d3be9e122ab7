import { describe, expect, test } from "vitest";
import { coverageOf, PERSON_NAMES } from "./kit/coverage.ts";

const SLOW = 240_000;
const RUNS = 30;

/**
 * The 95 % interval of a place, over the whole chain from key to place. The whole grid, with 30 and 120 degrees a second and
 * more runs, is `npm run bench -- coverage`; here the squares that are promised, with seeds of their own, so that the same
 * comes out each time.
 */
describe.each(PERSON_NAMES)("%s", (person) => {
  test.each([5, 10])(
    "%d passes each way at 60 degrees a second: the interval holds the place",
    (passes) => {
      const { given, held } = coverageOf({ person, passes, degPerSecond: 60 }, RUNS);
      expect(given).toBeGreaterThan(RUNS / 2);
      expect(held / given).toBeGreaterThanOrEqual(0.93);
    },
    SLOW,
  );

  test(
    "two passes are too few to promise anything: inconclusive",
    () => {
      for (const degPerSecond of [30, 60, 120])
        expect(coverageOf({ person, passes: 2, degPerSecond }, 10).given).toBe(0);
    },
    SLOW,
  );
});

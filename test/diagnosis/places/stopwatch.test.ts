import { expect, test } from "vitest";
import { stopwatch, timedWords } from "../../../src/diagnosis/places/stopwatch.ts";
import { chanceFrom, exGaussian } from "../../../src/sim/chance.ts";
import { spot, stepOf } from "./kit/rig.ts";

const STEP = stepOf("{ snap: Pan, deg: 90, times: 5, dwell_s: 4 }");
/** Presses some seconds after every movement began. */
const pressedAfter = (seconds: (i: number) => number) =>
  STEP.moves
    .filter((move) => move.function === "Pan" && move.start >= STEP.leadIn)
    .map((move, i) => move.start / 40 + seconds(i))
    .map((after) => ({ frame: Math.floor(after * 40), after }));

test("presses on arrival give a travel time each way, less the reaction, beside the profile's", () => {
  const timed = stopwatch(
    spot,
    STEP,
    "Pan",
    pressedAfter((i) => 1.1 + 0.02 * (i % 3)),
    { mean: 0.4, error: 0.02 },
  );
  expect(timed.map(({ way, presses, slow }) => [way, presses, slow])).toEqual([
    ["up", 5, false],
    ["down", 5, false],
  ]);
  for (const { took, expected } of timed) {
    expect(took).toBeCloseTo(0.72, 1);
    // 90 of 540 degrees at 2.6 s for the whole travel, in whole frames, and the lag of 0.3 s.
    expect(expected).toBeCloseTo(0.3 + 0.45, 6);
  }
});

test("a slow axis is a symptom with a number, one way if it is slow one way", () => {
  const chance = chanceFrom(8);
  const presses = pressedAfter((i) => (i % 2 === 0 ? 0.75 : 2.1) + exGaussian(chance, 0.3, 0.05, 0.1));
  const [up, down] = stopwatch(spot, STEP, "Pan", presses);
  expect(up?.slow).toBe(false);
  expect(down?.slow).toBe(true);
  expect(down!.interval!.low).toBeLessThan(2.1);
  expect(down!.interval!.high).toBeGreaterThan(2.1);
  expect(timedWords(down!)).toBe(
    "on the way down (DMX falling) 2.0 s, plus or minus 0.2 s (5 presses); should be 0.8 s: slower than it should be",
  );
});

test("a single press gives a time and no verdict, whatever it says", () => {
  const [only] = stopwatch(spot, STEP, "Pan", pressedAfter(() => 3).slice(0, 1));
  expect(only).toMatchObject({ presses: 1, interval: undefined, slow: false });
  expect(timedWords(only!)).toContain("(1 press: too few to say how exactly)");
});

test("what is not known of the person widens the interval", () => {
  const presses = pressedAfter((i) => 1.2 + 0.01 * i);
  const width = (error: number) => {
    const interval = stopwatch(spot, STEP, "Pan", presses, { mean: 0.4, error })[0]!.interval!;
    return interval.high - interval.low;
  };
  expect(width(0.1)).toBeGreaterThan(width(0.01) + 0.2);
});

test("nothing is timed where nothing was pressed, or the function has no travel", () => {
  expect(stopwatch(spot, STEP, "Pan", [])).toEqual([]);
  expect(
    stopwatch(
      spot,
      STEP,
      "Gobo1",
      pressedAfter(() => 1),
    ),
  ).toEqual([]);
});

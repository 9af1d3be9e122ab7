import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { afterTrip, NO_TRIPS, ourTime, type PhoneClock, type RoundTrip } from "../../../src/run/phone/clock.ts";

/** A phone whose clock began at another moment and goes a little faster or slower, and the air between. Times in milliseconds. */
interface Air {
  /** What the phone's clock shows when ours shows 0. */
  readonly ahead: number;
  /** Parts in a million that the phone's clock goes too fast. */
  readonly fast: number;
}
const phoneTime = ({ ahead, fast }: Air, ours: number): number => ahead + ours * (1 + fast / 1e6);

/** One trip that leaves at `at` by our clock and takes so long there and back. */
const tripAt = (air: Air, at: number, there: number, back: number): RoundTrip => ({
  sent: phoneTime(air, at),
  received: at + there,
  answered: at + there,
  back: phoneTime(air, at + there + back),
});

const known = (trips: readonly RoundTrip[]): PhoneClock => trips.reduce(afterTrip, NO_TRIPS);

// RFC 5905, section 8, the equations for offset and delay; the numbers are worked by hand.
test("offset and delay of one trip are those of RFC 5905", () => {
  // Sent at 100, received at 1030, answered at 1040, back at 160: delay 60 - 10 = 50, offset ((930) + (880)) / 2 = 905.
  const clock = known([{ sent: 100, received: 1030, answered: 1040, back: 160 }]);
  expect(ourTime(clock, 130)).toEqual({ at: 130 + 905, give: 25 + 1 });
});

test("before any trip nobody knows", () => {
  expect(ourTime(NO_TRIPS, 5)).toBeUndefined();
});

test("of eight trips the quickest counts: it was held up least", () => {
  const air = { ahead: 7000, fast: 0 };
  const clock = known([90, 40, 5, 60, 200, 80, 30, 70].map((late, n) => tripAt(air, n * 500, 4 + late, 4)));
  const then = ourTime(clock, phoneTime(air, 4000));
  expect(then?.at).toBeCloseTo(4000 + 2.5, 0);
  expect(then?.give).toBeLessThan(9);
});

const AIR = fc.record({
  ahead: fc.double({ min: -1e6, max: 1e9, noNaN: true }),
  fast: fc.double({ min: -90, max: 90, noNaN: true }),
});
const LATE = fc.double({ min: 0, max: 600, noNaN: true });

// The error of an offset is at most half its delay, whatever the two ways take (RFC 5905, section 11); clocks wander besides.
test("however the air holds things up, there or back, the truth lies within the give", () => {
  fc.assert(
    fc.property(
      AIR,
      fc.array(fc.tuple(LATE, LATE), { minLength: 1, maxLength: 60 }),
      fc.double({ min: 0, max: 5000, noNaN: true }),
      (air, lates, later) => {
        const clock = known(lates.map(([there, back], n) => tripAt(air, n * 2000, there, back)));
        const pressed = lates.length * 2000 + later;
        const then = ourTime(clock, phoneTime(air, pressed))!;
        expect(Math.abs(then.at - pressed)).toBeLessThanOrEqual(then.give + 1e-3);
      },
    ),
  );
});

describe("the drift", () => {
  const steady = (air: Air, minutes: number) =>
    known(Array.from({ length: minutes * 120 }, (_, n) => tripAt(air, n * 500, 3, 3)));

  test.each([{ fast: 60 }, { fast: -45 }])("is found within minutes: $fast parts in a million", ({ fast }) => {
    const air = { ahead: 5000, fast };
    const clock = steady(air, 5);
    // A minute after the last trip, with the connection gone: 60 ppm would be 3.6 ms by then.
    const then = ourTime(clock, phoneTime(air, 360_000))!;
    expect(Math.abs(then.at - 360_000)).toBeLessThan(1);
    expect(then.give).toBeLessThan(6);
  });

  test("while nobody can say, room is left for it", () => {
    const clock = known([tripAt({ ahead: 0, fast: 0 }, 0, 2, 2)]);
    expect(ourTime(clock, 600_000)?.give).toBeCloseTo(2 + 1 + 60, 0);
  });
});

test("a clock that jumped is known from its first trip after that alone", () => {
  const before = [0, 1, 2, 3].map((n) => tripAt({ ahead: 0, fast: 0 }, n * 500, 3, 3));
  const clock = known([...before, tripAt({ ahead: 90_000, fast: 0 }, 2000, 40, 40)]);
  expect(ourTime(clock, 93_000)).toEqual({ at: 3000, give: expect.closeTo(41 + 0.3, 0) });
});

test.each([
  { because: "back before it was sent", trip: { sent: 100, received: 0, answered: 0, back: 90 } },
  { because: "ten seconds on the way", trip: { sent: 0, received: 0, answered: 0, back: 10_001 } },
  { because: "no number", trip: { sent: Number.NaN, received: 0, answered: 0, back: 1 } },
])("a trip that cannot help is left out: $because", ({ trip }) => {
  expect(known([trip])).toEqual(NO_TRIPS);
});

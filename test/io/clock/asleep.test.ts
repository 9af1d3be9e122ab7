import fc from "fast-check";
import { expect, test } from "vitest";
import { countingSleep } from "../../../src/io/clock/asleep.ts";

/** A computer whose two clocks part when it sleeps; the uptime is told in hundredths, as /proc/uptime is (proc(5)). */
const computer = () => {
  let [awake, asleep] = [12_345.678, 4000];
  return {
    wakes: (time: number) => {
      awake += time;
    },
    sleeps: (time: number) => {
      asleep += time;
    },
    clock: countingSleep(
      () => awake,
      () => Math.floor((awake + asleep) / 10) * 10,
    ),
  };
};

test("a computer that slept for a minute finds a minute gone", () => {
  const { sleeps, wakes, clock } = computer();
  wakes(1000);
  const before = clock();
  sleeps(60_000);
  wakes(3);
  expect(clock() - before).toBeGreaterThan(60_003 - 20);
  expect(clock() - before).toBeLessThan(60_003 + 20);
});

test("awake it is the monotonic clock itself, whatever the coarse one says", () => {
  const { wakes, clock } = computer();
  const began = clock();
  for (let n = 1; n <= 1000; n += 1) {
    wakes(0.7);
    expect(clock() - began).toBeCloseTo(n * 0.7, 6);
  }
});

test("it never goes back", () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(fc.double({ min: 0, max: 5000, noNaN: true }), fc.boolean())), (times) => {
      const { sleeps, wakes, clock } = computer();
      let last = clock();
      for (const [time, asleep] of times) {
        (asleep ? sleeps : wakes)(time);
        const now = clock();
        expect(now).toBeGreaterThanOrEqual(last);
        last = now;
      }
    }),
  );
});

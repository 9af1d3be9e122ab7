import fc from "fast-check";
import { expect, test } from "vitest";
import { follow, limitsFor, type Motion } from "../../src/sim/follower.ts";

const framesTo = (target: number, from: Motion, time_s: number, acceleration_s: number) => {
  const limits = limitsFor(1, time_s, acceleration_s);
  let motion = from;
  let frames = 0;
  while ((motion.at !== target || motion.speed !== 0) && frames < 4000) {
    motion = follow(motion, target, limits);
    frames += 1;
  }
  return frames;
};

test.each<[number, number, string]>([
  [2.6, 0.4, "pan of a large spot, 540 degrees in 2.6 s (common practice, no source)"],
  [1.6, 0.35, "tilt of the same, 270 degrees in 1.6 s (common practice, no source)"],
  [10, 0.1, "a slow thing with a quick start"],
] as const)(
  "full travel of %f s with %f s to speed up takes that long, to two frames: %s",
  (time_s, acceleration_s) => {
    const frames = framesTo(1, { at: 0, speed: 0 }, time_s, acceleration_s);
    expect(Math.abs(frames - time_s * 40)).toBeLessThanOrEqual(2);
  },
);

test("it never goes past a target that stands, never faster than it can, and arrives exactly", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.double({ min: 0.2, max: 8, noNaN: true }),
      fc.double({ min: 0.05, max: 1, noNaN: true }),
      (from, to, time_s, acceleration_s) => {
        const limits = limitsFor(1, time_s, acceleration_s);
        let motion: Motion = { at: from, speed: 0 };
        for (let n = 0; n < (time_s + 2) * 40; n += 1) {
          motion = follow(motion, to, limits);
          expect(Math.abs(motion.speed)).toBeLessThanOrEqual(limits.speed + 1e-9);
          expect((to - motion.at) * Math.sign(to - from)).toBeGreaterThanOrEqual(-1e-9);
        }
        expect(motion).toEqual({ at: to, speed: 0 });
      },
    ),
  );
});

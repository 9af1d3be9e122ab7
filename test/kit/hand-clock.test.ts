import fc from "fast-check";
import { expect, test } from "vitest";
import { secondsOf } from "../../src/domain/units.ts";
import type { Tick } from "../../src/run/ports.ts";
import { handClock } from "./hand-clock.ts";

const started = () => {
  const clock = handClock();
  const ticks: Tick[] = [];
  const stop = clock.start((tick) => ticks.push(tick));
  return { clock, ticks, stop, frames: () => ticks.map(({ frame }) => frame) };
};

test("nothing happens until it is moved", () => {
  const { clock, ticks } = started();
  expect([clock.now(), ticks.length]).toEqual([0, 0]);
});

test("a minute holds 2400 frames, and the one that opens the next minute", () => {
  const { clock, frames } = started();
  clock.advance(60);
  expect(frames()).toEqual(Array.from({ length: 2401 }, (_, n) => n));
  expect(clock.now()).toBe(60);
});

test("many small moves call the same frames as one large move", () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 200 })), (milliseconds) => {
      const [small, large] = [started(), started()];
      small.clock.advance(0);
      for (const time of milliseconds) small.clock.advance(time / 1000);
      large.clock.advance(milliseconds.reduce((sum, time) => sum + time, 0) / 1000);
      expect(small.ticks).toEqual(large.ticks);
    }),
  );
});

test("ticks one by one stand on their deadlines", () => {
  const { clock, frames } = started();
  clock.tick();
  expect([clock.now(), frames()]).toEqual([0, [0]]);
  clock.tick(3);
  expect([clock.now(), frames()]).toEqual([secondsOf(3), [0, 1, 2, 3]]);
});

test("a stall skips what it slept through and calls the frame that is due, late", () => {
  const { clock, ticks } = started();
  clock.tick();
  clock.stall(0.06);
  expect(ticks[1]!.frame).toBe(2);
  expect(ticks[1]!.late).toBeCloseTo(0.01, 9);
  clock.tick();
  expect(ticks[2]).toEqual({ frame: 3, late: 0 });
  clock.stall(0.001);
  expect(ticks.length).toBe(3);
});

test("a stopped clock keeps time and calls nobody; started again it counts from 0", () => {
  const { clock, ticks, stop } = started();
  clock.tick();
  stop();
  clock.advance(1);
  clock.tick();
  clock.stall(1);
  expect([ticks.length, clock.now()]).toEqual([1, 2]);
  clock.start((tick) => ticks.push(tick));
  clock.tick();
  expect(ticks[1]).toEqual({ frame: 0, late: 0 });
});

test("it can be stopped and started again from within a tick", () => {
  const clock = handClock();
  const frames: number[] = [];
  const stop = clock.start(() => {
    stop();
    clock.start(({ frame }) => frames.push(frame));
  });
  clock.tick();
  expect(frames).toEqual([]);
  clock.tick(2);
  expect(frames).toEqual([0, 1]);
});

test("two at once is our own mistake", () => {
  expect(() => started().clock.start(() => {})).toThrow("Bug");
});

test("the date moves with it", () => {
  const clock = handClock("2026-03-01T10:00:00.000Z");
  clock.advance(90.025);
  expect(clock.date()).toBe("2026-03-01T10:01:30.025Z");
});

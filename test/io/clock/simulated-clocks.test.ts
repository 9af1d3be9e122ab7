import { expect, test } from "vitest";
import { secondsOf } from "../../../src/domain/units.ts";
import { fastClock, frameByFrame } from "../../../src/io/clock/clocks.ts";
import type { Clock, Tick } from "../../../src/run/ports.ts";

/** Runs until `count` ticks came, each with the clock's own time. */
const ticksOf = (clock: Clock, count: number) =>
  new Promise<readonly (Tick & { readonly now: number })[]>((resolve) => {
    const ticks: (Tick & { readonly now: number })[] = [];
    const stop = clock.start((tick) => {
      if (ticks.push({ ...tick, now: clock.now() }) < count) return;
      stop();
      resolve(ticks);
    });
  });
const turn = () => new Promise((resolve) => setImmediate(resolve));

test("a minute has 2400 frames, each 25 ms after the one before by its own time", async () => {
  const ticks = await ticksOf(
    fastClock(() => false),
    2401,
  );
  expect(ticks).toEqual(Array.from({ length: 2401 }, (_, frame) => ({ frame, late: 0, now: secondsOf(frame) })));
});

test("others have their turn in between", async () => {
  let frames = 0;
  const stop = fastClock(() => false).start(() => {
    frames += 1;
  });
  await turn();
  await turn();
  const before = frames;
  await turn();
  stop();
  expect(before).toBeGreaterThan(0);
  expect(frames).toBeGreaterThan(before);
});

test("no frame while somebody is busy, and none is lost by it", async () => {
  let busy = false;
  const frames: number[] = [];
  const clock = fastClock(() => busy);
  const stop = clock.start(({ frame }) => {
    frames.push(frame);
    busy = frame === 10;
  });
  for (let turns = 0; turns < 20; turns += 1) await turn();
  expect(frames.at(-1)).toBe(10);
  expect(clock.now()).toBe(0.25);
  busy = false;
  while (frames.length < 100) await turn();
  stop();
  expect(frames).toEqual(frames.map((_, n) => n));
});

test("time goes on over a stop and a new start, frames count from 0", async () => {
  const clock = fastClock(() => false);
  await ticksOf(clock, 4);
  const again = await ticksOf(clock, 2);
  expect(again).toEqual([
    { frame: 0, late: 0, now: secondsOf(4) },
    { frame: 1, late: 0, now: secondsOf(5) },
  ]);
});

test("frames follow one another and are never late, whatever the clock below was held up by; the time is its own", () => {
  const below: readonly Tick[] = [
    { frame: 0, late: 0 },
    { frame: 1, late: 0.02 },
    { frame: 2401, late: 0.001 },
  ];
  let stopped = false;
  const clock: Clock = {
    now: () => 61,
    date: () => "2026-11-28T12:00:00.000Z",
    start: (onTick) => {
      for (const tick of below) onTick(tick);
      return () => {
        stopped = true;
      };
    },
  };
  const ticks: Tick[] = [];
  const steady = frameByFrame(clock);
  const stop = steady.start((tick) => ticks.push(tick));
  expect(ticks).toEqual([0, 1, 2].map((frame) => ({ frame, late: 0 })));
  expect([steady.now(), steady.date()]).toEqual([61, "2026-11-28T12:00:00.000Z"]);
  stop();
  expect(stopped).toBe(true);
});

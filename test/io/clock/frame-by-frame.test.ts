import { expect, test } from "vitest";
import { frameByFrame } from "../../../src/io/clock/frame-by-frame.ts";
import type { Clock, Tick } from "../../../src/run/ports.ts";

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

import fc from "fast-check";
import { expect, test } from "vitest";
import { countingSleep, frameClock, type Machine } from "../../../src/io/clock/clocks.ts";
import type { Tick } from "../../../src/run/ports.ts";

const FRAME = 25;

/** A machine moved by hand: its timers come as late as `lateness` says, one entry per timer, then on time. */
const machineOf = (lateness: readonly number[] = [], holdsShort = 0) => {
  let now = 1000;
  let timer: { readonly at: number; readonly call: () => void } | undefined;
  let woken = 0;
  const machine: Machine = {
    now: () => now,
    wake: (after, call) => {
      const mine = { at: now + after + (lateness[woken] ?? 0), call };
      woken += 1;
      timer = mine;
      return () => {
        if (timer === mine) timer = undefined;
      };
    },
    hold: (time) => {
      now += time - holdsShort;
    },
  };
  /** Runs the next timer; false when none is set. */
  const next = () => {
    const due = timer;
    if (due === undefined) return false;
    timer = undefined;
    now = Math.max(now, due.at);
    due.call();
    return true;
  };
  const pass = (time: number) => {
    now += time;
  };
  return { machine, next, pass, now: () => now };
};

/** Plays so many beats and notes each tick with the moment it was called. */
const play = (lateness: readonly number[], work: readonly number[], beats: number) => {
  const bench = machineOf(lateness);
  const ticks: (Tick & { readonly at: number })[] = [];
  frameClock(bench.machine).start((tick) => {
    ticks.push({ ...tick, at: bench.now() });
    bench.pass(work[ticks.length - 1] ?? 0);
  });
  while (ticks.length < beats) bench.next();
  return ticks;
};

test("an idle machine gets every frame, on its deadline", () => {
  const ticks = play([], [], 2400);
  const begin = ticks[0]!.at;
  expect(ticks.map(({ frame }) => frame)).toEqual(Array.from({ length: 2400 }, (_, n) => n));
  for (const { frame, late, at } of ticks) {
    expect(late).toBeCloseTo(0, 9);
    expect(at - begin).toBeCloseTo(frame * FRAME, 6);
  }
});

test("a timer that comes after the deadline makes a late frame, and the next one is on time again", () => {
  const ticks = play([0, 9.5], [], 3);
  expect(ticks.map(({ frame }) => frame)).toEqual([0, 1, 2]);
  expect(ticks.map(({ late }) => Number(late.toFixed(6)))).toEqual([0, 0.0075, 0]);
});

test("frames that cannot be sent in time are skipped, never queued", () => {
  const ticks = play([], [0, 60], 4);
  expect(ticks.map(({ frame }) => frame)).toEqual([0, 1, 3, 4]);
  expect(ticks[2]!.late).toBeCloseTo(0.01, 9);
});

test("a suspended computer is one jump in the numbers", () => {
  const ticks = play([0, 0, 3_600_000], [], 4);
  expect(ticks.map(({ frame }) => frame)).toEqual([0, 1, 144_001, 144_002]);
});

test("a hold that ends a hair early repeats no frame", () => {
  const bench = machineOf([], 0.001);
  const ticks: Tick[] = [];
  frameClock(bench.machine).start((tick) => ticks.push(tick));
  while (ticks.length < 4) bench.next();
  expect(ticks).toEqual([0, 1, 2, 3].map((frame) => ({ frame, late: 0 })));
});

test("whatever timers and work do, numbers rise, the grid holds and no tick is a whole frame late", () => {
  const time = fc.double({ min: -1, max: 200, noNaN: true });
  fc.assert(
    fc.property(
      fc.array(time, { maxLength: 40 }),
      fc.array(fc.double({ min: 0, max: 90, noNaN: true })),
      (late, work) => {
        const begin = 1004;
        let last = -1;
        for (const tick of play(late, work, 60)) {
          expect(tick.frame).toBeGreaterThan(last);
          expect(tick.late).toBeGreaterThan(-1e-9);
          expect(tick.late).toBeLessThan(FRAME / 1000);
          expect(begin + tick.frame * FRAME + tick.late * 1000).toBeCloseTo(tick.at, 6);
          last = tick.frame;
        }
      },
    ),
  );
});

test("stopping calls the timer off, also from within a tick", () => {
  const bench = machineOf();
  const frames: number[] = [];
  const stop = frameClock(bench.machine).start(({ frame }) => {
    frames.push(frame);
    if (frame === 2) stop();
  });
  while (bench.next());
  expect(frames).toEqual([0, 1, 2]);
  frameClock(bench.machine).start(() => {})();
  expect(bench.next()).toBe(false);
});

test("on the real machine frames come in order and not before their time", async () => {
  const clock = frameClock();
  const begin = clock.now();
  const ticks = await new Promise<readonly (Tick & { readonly at: number })[]>((resolve) => {
    const seen: (Tick & { readonly at: number })[] = [];
    const stop = clock.start((tick) => {
      if (seen.push({ ...tick, at: clock.now() }) < 3) return;
      stop();
      resolve(seen);
    });
  });
  let last = -1;
  for (const { frame, at } of ticks) {
    expect(frame).toBeGreaterThan(last);
    expect(at - begin).toBeGreaterThanOrEqual((frame * FRAME) / 1000);
    last = frame;
  }
  expect(Math.abs(Date.parse(clock.date()) - Date.now())).toBeLessThan(60_000);
});

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

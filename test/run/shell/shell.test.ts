import { afterEach, expect, test, vi } from "vitest";
import { fastClock } from "../../../src/io/clock/clocks.ts";
import { silentLog } from "../../../src/io/log/file.ts";
import { memoryJournal } from "../../../src/io/store/memory.ts";
import { silentVoice } from "../../../src/io/voice/speech.ts";
import { sample } from "../../../src/plan/sample.ts";
import { onlySession, rackOfOne } from "../../../src/run/batch/batch.ts";
import { viewOf } from "../../../src/run/events/view.ts";
import { type Clock, type Journal, JournalError } from "../../../src/run/ports.ts";
import type { Job } from "../../../src/run/session/job.ts";
import { openSession } from "../../../src/run/session/session.ts";
import { diagnosedHere } from "../../../src/run/shell/diagnosis-thread.ts";
import { onlyLine, sentHere } from "../../../src/run/shell/frame-sender.ts";
import { Shell } from "../../../src/run/shell/shell.ts";
import { jobOf } from "../../kit/driven.ts";
import { isDark, movedBetween } from "../../kit/held.ts";
import { ObligingWatcher } from "../../kit/obliging-watcher.ts";
import { ofOne } from "../../kit/of-one.ts";
import { RecordingLine } from "../../kit/recording-line.ts";

const ADDRESS = 101;
const job = jobOf(["{ sweep: Pan, passes: 1 }", "{ snap: Iris, times: 1 }", "in-and-out: Prism1"], {
  address: ADDRESS,
});

const bench = (over: { journal?: Journal; job?: Job; clock?: (clock: Clock) => Clock } = {}) => {
  const line = new RecordingLine();
  const watcher = new ObligingWatcher();
  const journal = over.journal ?? memoryJournal();
  let signal: (name: string) => void = () => {};
  let mishap: (error: unknown) => void = () => {};
  const shell: Shell = new Shell(rackOfOne(openSession(over.job ?? job, "KM"), "r1"), {
    clock: (over.clock ?? same)(fastClock(() => shell.busy())),
    frames: sentHere(onlyLine(line)),
    journal,
    watcher: ofOne(watcher, "r1"),
    voice: silentVoice,
    log: silentLog,
    diagnosis: diagnosedHere,
    questions: new Map(),
    byHand: () => {},
    signals: (listen) => {
      signal = listen;
      return () => {};
    },
    mishaps: (listen) => {
      mishap = listen;
      return () => {};
    },
    bench: "test",
  });
  return {
    line,
    watcher,
    journal,
    run: async () => onlySession(await shell.run()),
    signal: (name: string) => signal(name),
    mishap: (error: unknown) => mishap(error),
  };
};

const same = (clock: Clock) => clock;

const slotsOf = (levels: Uint8Array | undefined) => levels?.slice(ADDRESS - 1, ADDRESS - 1 + 30);
const { profile } = job.timeline;
/** From the frame `from` on, counted from the end if negative, it is dark, and nothing but light differs from the frame before. */
const expectHeld = (frames: readonly Uint8Array[], from: number) => {
  const last = frames.map(slotsOf).slice(from);
  const before = slotsOf(frames.at(from - 1));
  for (const slots of last) {
    expect(isDark(profile, slots)).toBe(true);
    expect(movedBetween(profile, before, slots)).toEqual([]);
  }
};

afterEach(() => void vi.useRealTimers());

test("a whole run sends, for every step in order, each frame as its sample, then holds where the last one ended, dark", async () => {
  const { line, run } = bench();
  const session = await run();
  expect(session.stage).toEqual({ kind: "finished", how: "finished" });
  const sent = line.frames.map((levels) => slotsOf(levels)?.toString());
  let from = 0;
  for (const step of [job.slowStart, ...job.timeline.steps]) {
    const wanted = Array.from({ length: step.frames + 1 }, (_, n) => sample(job.timeline.profile, step, n).toString());
    const at = sent.findIndex((_, index) => index >= from && wanted.every((frame, n) => sent[index + n] === frame));
    expect(at, `${step.id}: all its frames in a row`).toBeGreaterThanOrEqual(from);
    from = at + wanted.length;
  }
  expectHeld(line.frames, -5);
  expect(line.closed).toBe(1);
});

test("the same run twice sends the same bytes", async () => {
  const [first, second] = [bench(), bench()];
  await first.run();
  await second.run();
  expect(first.line.frames).toEqual(second.line.frames);
});

test("what the journal holds is what the session knew", async () => {
  const { journal, run } = bench();
  const session = await run();
  const events = await journal.events("r1");
  expect(viewOf(events.map(({ body }) => body))).toEqual(session.view);
  expect(events.map(({ id }) => id)).toEqual(events.map((_, index) => `r1-${String(index + 1).padStart(5, "0")}`));
  expect(events.every(({ person, bench }) => person === "KM" && bench === "test")).toBe(true);
});

test("a result is stored before it is shown as kept", async () => {
  const written: string[] = [];
  const memory = memoryJournal();
  const journal: Journal = {
    ...memory,
    append: async (event) => {
      await memory.append(event);
      written.push(event.id);
    },
  };
  const { watcher, run } = bench({ journal });
  watcher.onShow = (session) => expect(session.stored).toBeLessThanOrEqual(written.length);
  await run();
  expect(written.length).toBeGreaterThan(8);
});

test("cable out in mid-step: it says so, reopens by itself, and goes on from the same frame once somebody agrees", async () => {
  vi.useFakeTimers({ toFake: ["setInterval", "clearInterval"] });
  const { line, watcher, run } = bench();
  const cut = job.slowStart.frames + 150;
  let cutAt: string | undefined;
  line.onFrame = (count) => {
    if (count !== cut) return;
    cutAt = slotsOf(line.frames.at(-1))?.toString();
    line.pull(2);
  };
  watcher.onShow = (session) => {
    if (session.stage.kind === "line-lost" && !session.stage.back)
      queueMicrotask(() => void vi.advanceTimersByTimeAsync(3000));
  };
  const session = await run();
  expect(session.stage).toEqual({ kind: "finished", how: "finished" });
  expect(line.opened).toBe(2);
  expect(session.view.course.map(({ what }) => what)).toEqual(["line-lost", "line-back", "resumed"]);
  const later = line.frames.slice(cut).map((levels) => slotsOf(levels)?.toString());
  expect(later).toContain(cutAt);
  expect(session.view.steps[0]).toMatchObject({ attempt: 2, judged: { result: "pass" } });
});

test.each([
  { because: "closing the lid for ten minutes", time: 600 },
  { because: "a program held for a second", time: 1 },
])(
  "$because in mid-step: nothing jumps on; dark, then the safety point, the slow movement, the step from its beginning",
  async ({ time }) => {
    const cut = job.slowStart.frames + 150;
    const { line, run } = bench({
      clock: (clock) => ({
        ...clock,
        start: (onTick) =>
          clock.start((tick) => onTick({ ...tick, frame: tick.frame + (tick.frame < cut ? 0 : time * 40) })),
      }),
    });
    const session = await run();
    expect(session.stage).toEqual({ kind: "finished", how: "finished" });
    expect(session.view.course.map(({ what }) => what)).toEqual(["away", "back-again"]);
    expect(session.view.confirmed.map(({ point }) => point)).toEqual(["before-moving", "before-moving"]);
    expect(session.view.steps[0]).toMatchObject({ attempt: 2, judged: { result: "pass" } });
    const frames = line.frames.map(slotsOf);
    // From where it was told to stand when the computer stood still, and back to there.
    for (const at of [cut, cut + job.slowStart.frames])
      expect(movedBetween(profile, frames[cut - 1], frames[at]), `frame ${at}`).toEqual([]);
    for (const slots of frames.slice(cut, cut + job.slowStart.frames)) expect(isDark(profile, slots)).toBe(true);
  },
);

test("less than a second without a tick is lateness, not standing still", async () => {
  const { run } = bench({
    clock: (clock) => ({
      ...clock,
      start: (onTick) => clock.start((tick) => onTick({ ...tick, frame: tick.frame + (tick.frame < 300 ? 0 : 38) })),
    }),
  });
  const session = await run();
  expect(session.view.course).toEqual([]);
  expect(session.view.steps[0]).toMatchObject({ attempt: 2, judged: { result: "pass" } });
});

test.each([-3600, 3600])(
  "the computer's clock set by %i s in mid-run: the same frames, and the record in its order",
  async (by) => {
    let asked = 0;
    const started = Date.parse("2026-11-25T12:00:00Z");
    const [set, unset] = [
      bench({
        clock: (clock) => ({
          ...clock,
          date: () => new Date(started + (asked++ < 4 ? 0 : by * 1000)).toISOString(),
        }),
      }),
      bench(),
    ];
    const [one, other] = [await set.run(), await unset.run()];
    expect(set.line.frames).toEqual(unset.line.frames);
    expect(one.view).toEqual(other.view);
    const events = await set.journal.events("r1");
    expect(events.map(({ id }) => id)).toEqual(events.map((_, index) => `r1-${String(index + 1).padStart(5, "0")}`));
    expect(new Set(events.map(({ at }) => at)).size).toBe(2);
  },
);

test("a line that cannot be opened at all ends the run with its words", async () => {
  const { line, run } = bench();
  line.refuse("busy");
  expect(await run()).toMatchObject({ stage: { kind: "finished", how: "failed" }, trouble: "the test line is busy" });
});

test.each(["SIGINT", "SIGTERM", "SIGHUP"])(
  "%s in mid-movement: dark, and it holds where it was last told to stand",
  async (name) => {
    const { line, run, signal } = bench();
    line.onFrame = (count) => {
      if (count === job.slowStart.frames + 60) signal(name);
    };
    const session = await run();
    expect(session.stage).toEqual({ kind: "finished", how: "stopped" });
    expectHeld(line.frames, job.slowStart.frames + 60);
  },
);

test("a journal that fails ends the run dark where it stands, with its words", async () => {
  let left = 6;
  const memory = memoryJournal();
  const journal: Journal = {
    ...memory,
    append: (event) =>
      left-- > 0 ? memory.append(event) : Promise.reject(new JournalError("full", "the disk is full")),
  };
  const { line, run } = bench({ journal });
  expect(await run()).toMatchObject({ stage: { kind: "finished", how: "failed" }, trouble: "the disk is full" });
  expectHeld(line.frames, -5);
});

test.each([
  {
    where: "in what is shown",
    sin: ({ watcher }: ReturnType<typeof bench>) => {
      watcher.onShow = (session) => {
        if (session.stage.kind === "moving" && session.stage.index === 1) throw new Error("Bug: on purpose");
      };
    },
  },
  {
    where: "in a frame",
    sin: ({ line }: ReturnType<typeof bench>) => {
      line.onFrame = (count) => {
        if (count === job.slowStart.frames + 60) throw new Error("Bug: on purpose");
      };
    },
  },
  {
    where: "anywhere else",
    sin: ({ line, mishap }: ReturnType<typeof bench>) => {
      line.onFrame = (count) => {
        if (count === job.slowStart.frames + 60) mishap(new Error("Bug: on purpose"));
      };
    },
  },
])("a mistake of ours $where goes dark, shuts every door, and is not swallowed", async ({ sin }) => {
  const rig = bench();
  sin(rig);
  await expect(rig.run()).rejects.toThrow("Bug: on purpose");
  expectHeld(rig.line.frames, -5);
  expect([rig.watcher.closed, rig.line.closed]).toEqual([true, 1]);
});

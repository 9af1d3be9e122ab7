import { expect, test } from "vitest";
import { onUniverse } from "../../src/commands/lines.ts";
import { silentLog } from "../../src/log/file.ts";
import type { Clock } from "../../src/ports.ts";
import { Shell } from "../../src/run/shell.ts";
import { framedLine } from "../../src/serial/framed-line.ts";
import { openSession } from "../../src/session/session.ts";
import { memoryJournal } from "../../src/store/memory.ts";
import { sample, sampleRest } from "../../src/timeline/sample.ts";
import { secondsOf } from "../../src/units.ts";
import { silentVoice } from "../../src/voice/silent.ts";
import { jobOf } from "../kit/driven.ts";
import { lineDecoder } from "../kit/line-decoder.ts";
import { ObligingWatcher } from "../kit/obliging-watcher.ts";
import { ptyPair } from "../kit/pty.ts";

const ADDRESS = 33;

/** A clock that waits for the interface: the next tick comes when every frame that was taken has arrived at the other end. */
const pacedBy = (underway: () => boolean): Clock => {
  let frame = 0;
  return {
    now: () => secondsOf(frame),
    date: () => "2026-01-01T00:00:00.000Z",
    start: (onTick) => {
      let running = true;
      const beat = () => {
        if (!underway()) onTick({ frame: frame++, late: 0 });
        if (running) setImmediate(beat);
      };
      setImmediate(beat);
      return () => {
        running = false;
      };
    },
  };
};

test("a whole run through dmx-ts's register and a serial port: every frame, read by a decoder of its own, is the sample of its number", async () => {
  const job = jobOf(["{ sweep: Pan, speed: full, passes: 1 }", "{ snap: Iris, times: 1 }"], { address: ADDRESS });
  const decoder = lineDecoder();
  const pair = ptyPair(decoder.take);
  let taken = 0;
  const line = await onUniverse(1, framedLine(pair.path));
  const shell: Shell = new Shell(openSession(job, "KM"), {
    clock: pacedBy(() => shell.busy() || decoder.packets.length < taken),
    line: {
      ...line,
      send: (levels) => {
        const outcome = line.send(levels);
        if (outcome === "sent") taken++;
        return outcome;
      },
      open: async (lost) => {
        await line.open(lost);
        pair.taken();
      },
    },
    journal: memoryJournal(),
    watcher: new ObligingWatcher(),
    voice: silentVoice,
    log: silentLog,
    mainsOn: () => {},
    signals: () => () => {},
    mishaps: () => () => {},
    bench: "test",
    run: "r1",
  });
  const session = await shell.run();
  pair.pullOut();

  expect(session.stage).toEqual({ kind: "finished", how: "finished" });
  const { profile } = job.timeline;
  const fixture = decoder.packets.map((slots) => slots.slice(ADDRESS - 1, ADDRESS - 1 + profile.slots).join());
  let from = 0;
  for (const step of [job.slowStart, ...job.timeline.steps]) {
    const wanted = Array.from({ length: step.frames + 1 }, (_, n) => sample(profile, step, n).join());
    const at = fixture.findIndex(
      (_, index) => index >= from && wanted.every((frame, n) => fixture[index + n] === frame),
    );
    expect(at, `${step.id}: all its frames in a row`).toBeGreaterThanOrEqual(from);
    from = at + wanted.length;
  }
  expect(fixture.at(-1)).toBe(sampleRest(profile).join());
  expect({ strays: decoder.strays, lengths: new Set(decoder.packets.map(({ length }) => length)) }).toEqual({
    strays: 0,
    lengths: new Set([512]),
  });
});

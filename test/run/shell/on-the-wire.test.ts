import { expect, test } from "vitest";
import { onUniverse } from "../../../src/app/fixture/lines.ts";
import { secondsOf } from "../../../src/domain/units.ts";
import { silentLog } from "../../../src/io/log/file.ts";
import { framedLine } from "../../../src/io/serial/framed-line.ts";
import { memoryJournal } from "../../../src/io/store/memory.ts";
import { silentVoice } from "../../../src/io/voice/speech.ts";
import { sample } from "../../../src/plan/sample.ts";
import type { CompiledStep } from "../../../src/plan/timeline.ts";
import { onlySession, rackOfOne } from "../../../src/run/batch/batch.ts";
import type { Clock } from "../../../src/run/ports.ts";
import { openSession, type Session } from "../../../src/run/session/session.ts";
import { diagnosedHere } from "../../../src/run/shell/diagnosis-thread.ts";
import { sentHere } from "../../../src/run/shell/frame-sender.ts";
import { Shell } from "../../../src/run/shell/shell.ts";
import { jobOf } from "../../kit/driven.ts";
import { isDark, movedBetween } from "../../kit/held.ts";
import { lineDecoder } from "../../kit/line-decoder.ts";
import { ObligingWatcher } from "../../kit/obliging-watcher.ts";
import { ofOne } from "../../kit/of-one.ts";
import { ptyPair } from "../../kit/pty.ts";

const ADDRESS = 33;

/** A clock that waits for the interface: the next tick comes when every frame that was taken has arrived at the other end. */
const pacedBy = (underway: () => boolean, lastFate: () => "sent" | "dropped"): Clock => {
  let frame = 0;
  return {
    now: () => secondsOf(frame),
    date: () => "2026-01-01T00:00:00.000Z",
    start: (onTick) => {
      let running = true;
      const beat = () => {
        if (!underway()) onTick({ frame: frame++, late: 0 });
        if (!running) return;
        // The port calls back a moment after the other end has the bytes; a crowded computer takes its time for it.
        if (lastFate() === "dropped") setTimeout(beat, 20);
        else setImmediate(beat);
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
  const { profile } = job.timeline;
  const decoder = lineDecoder();
  const pair = ptyPair(decoder.take);
  const watcher = new ObligingWatcher();
  /** What was out when the line took a frame, in the order in which it took them. */
  const taken: { readonly step: CompiledStep | undefined; readonly n: number }[] = [];
  const line = await onUniverse(1, framedLine(pair.path));
  let fate: "sent" | "dropped" = "sent";
  const shell: Shell = new Shell(rackOfOne(openSession(job, "KM"), "r1"), {
    clock: pacedBy(
      () => shell.busy() || decoder.packets.length < taken.length,
      () => fate,
    ),
    frames: sentHere({
      ...line,
      send: (universe, levels) => {
        const outcome = line.send(universe, levels);
        fate = outcome;
        if (outcome === "sent") taken.push({ step: playing(watcher.shown.at(-1)), n: shell.frame() });
        return outcome;
      },
      open: async (universe, lost) => {
        await line.open(universe, lost);
        pair.taken();
      },
    }),
    journal: memoryJournal(),
    watcher: ofOne(watcher, "r1"),
    voice: silentVoice,
    log: silentLog,
    diagnosis: diagnosedHere,
    questions: new Map(),
    byHand: () => {},
    signals: () => () => {},
    mishaps: () => () => {},
    bench: "test",
  });
  const session = onlySession(await shell.run());
  // What the port has given away may still be on its way to this end.
  while (decoder.packets.length < taken.length) await new Promise((resolve) => setImmediate(resolve));
  pair.pullOut();

  expect(session.stage).toEqual({ kind: "finished", how: "finished" });
  const read = decoder.packets.map((slots) => slots.slice(ADDRESS - 1, ADDRESS - 1 + profile.slots).join());
  for (const [index, { step, n }] of taken.entries())
    if (step) expect(read[index], `${step.id} frame ${n}`).toBe(sample(profile, step, n).join());
  const played = new Set(taken.flatMap(({ step }) => (step ? [step.id] : [])));
  expect(played).toEqual(new Set(["slow-start", ...job.timeline.steps.map(({ id }) => id)]));
  expect(taken.filter(({ step }) => step).length).toBeGreaterThan(300);
  const last = decoder.packets.slice(-2).map((slots) => slots.slice(ADDRESS - 1));
  expect(movedBetween(profile, last[0], last[1])).toEqual([]);
  expect(isDark(profile, last[1])).toBe(true);
  expect(decoder.strays).toBe(0);
  expect(new Set(decoder.packets.map(({ length }) => length))).toEqual(new Set([512]));
});

/** The step whose frames go out just now. */
const playing = (session: Session | undefined): CompiledStep | undefined => {
  if (session?.stage.kind === "moving") return session.stage.step;
  return session?.stage.kind === "slow-start" ? session.commanded.plays : undefined;
};

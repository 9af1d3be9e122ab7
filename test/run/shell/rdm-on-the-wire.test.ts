import { expect, test } from "vitest";
import { secondsOf } from "../../../src/domain/units.ts";
import { silentLog } from "../../../src/io/log/file.ts";
import { framedLine } from "../../../src/io/serial/framed-line.ts";
import { memoryJournal } from "../../../src/io/store/memory.ts";
import { silentVoice } from "../../../src/io/voice/speech.ts";
import { onlySession, rackOfOne } from "../../../src/run/batch/batch.ts";
import type { Clock } from "../../../src/run/ports.ts";
import { openSession } from "../../../src/run/session/session.ts";
import { diagnosedHere } from "../../../src/run/shell/diagnosis-thread.ts";
import { onlyLine, sentHere } from "../../../src/run/shell/frame-sender.ts";
import { Shell } from "../../../src/run/shell/shell.ts";
import { chanceFrom } from "../../../src/sim/chance.ts";
import { Cable } from "../../../src/sim/rdm/cable.ts";
import { plainDevice, uidOf } from "../../../src/sim/rdm/device.ts";
import { jobOf } from "../../kit/driven.ts";
import { ObligingWatcher } from "../../kit/obliging-watcher.ts";
import { ofOne } from "../../kit/of-one.ts";
import { rdmInterface } from "../../kit/rdm/interface.ts";

/** Two soaks: forty seconds of slow travel of pan, with half a second of rest at both ends. */
const STEPS = ["{ soak: Pan, seconds: 40 }"];

/** Ticks on as soon as every frame that was taken has arrived; while a question is out, one tick and then no more. */
const pacedBy = (arrived: () => boolean, isAsking: () => boolean): Clock => {
  let frame = 0;
  let whileAsking = 0;
  return {
    now: () => secondsOf(frame),
    date: () => "2026-01-01T00:00:00.000Z",
    start: (onTick) => {
      let running = true;
      const beat = () => {
        whileAsking = isAsking() ? whileAsking : 0;
        if (arrived() && whileAsking < 1) {
          if (isAsking()) whileAsking += 1;
          onTick({ frame: frame++, late: 0 });
        }
        // The port calls back a moment after the other end has the bytes.
        if (running) setTimeout(beat, 2);
      };
      setImmediate(beat);
      return () => {
        running = false;
      };
    },
  };
};

test("a fixture is asked all through a run over one serial port: no axis jumps, no question in a movement, what is dropped is counted", async () => {
  const job = jobOf(STEPS);
  const cable = new Cable([plainDevice(uidOf("7FF0:00000002"), { serial: "A-17" })], chanceFrom(1));
  const far = rdmInterface(cable);
  const line = framedLine(far.pair.path);
  const fates: ("sent" | "dropped")[] = [];
  const taken = () => fates.filter((fate) => fate === "sent").length;
  const heardLevels = () => far.heard.filter((one) => one !== "question").length;
  const watcher = new ObligingWatcher();
  const shell: Shell = new Shell(rackOfOne(openSession(job, "KM"), "r1"), {
    clock: pacedBy(
      () => heardLevels() >= taken(),
      () => shell.busy(),
    ),
    frames: sentHere(
      onlyLine({
        ...line,
        send: (levels) => {
          const fate = line.send(levels);
          fates.push(fate);
          return fate;
        },
      }),
    ),
    journal: memoryJournal(),
    watcher: ofOne(watcher, "r1"),
    voice: silentVoice,
    log: silentLog,
    diagnosis: diagnosedHere,
    questions: new Map([[1, line.rdm]]),
    byHand: () => {},
    signals: () => () => {},
    mishaps: () => () => {},
    bench: "test",
  });
  const session = onlySession(await shell.run());
  far.pair.pullOut();

  // It was asked everything, and its sensors again: how often depends on how crowded this computer is.
  expect(session.view.said.length).toBe(1);
  expect(session.view.followed.length).toBeGreaterThanOrEqual(1);
  // Pan on slots 1 and 2, a full travel in 9.5 s: never further than the frames that were dropped before it, each counted.
  const pan = (levels: readonly number[]) => (levels[0] ?? 0) * 256 + (levels[1] ?? 0);
  const aFrame = 65_536 / (9.5 * 40);
  const frames = far.heard.flatMap((one) => (one === "question" ? [] : [pan(one)]));
  const droppedBefore = fates
    .join(" ")
    .split("sent")
    .map((between) => (between.match(/dropped/g) ?? []).length);
  const soakBegins = frames.length - 40 * 40;
  const jumps = frames.flatMap((value, index) => {
    const [before, dropped] = [frames[index - 1] ?? value, droppedBefore[index] ?? 0];
    return index > soakBegins && Math.abs(value - before) > aFrame * (1 + dropped) + 2 ? [value - before] : [];
  });
  // At the end of the run every axis holds where it was: no jump there either.
  expect(jumps).toEqual([]);
  // No question lies in a movement: one that was out when it began holds up its first frames at most.
  const around = far.heard.flatMap((one, index) => {
    if (one !== "question") return [];
    const levels = (from: number, way: 1 | -1) =>
      far.heard.filter((other, at) => other !== "question" && (at - from) * way > 0);
    const before = levels(index, -1)
      .slice(-2)
      .map((frame) => pan(frame as readonly number[]));
    const after = levels(index, 1)
      .slice(0, 1)
      .map((frame) => pan(frame as readonly number[]));
    return [{ cameMoving: before[0] !== before[1], wentOn: before[1] !== after[0] }];
  });
  expect(around.length).toBeGreaterThan(40);
  expect(around.filter(({ cameMoving, wentOn }) => cameMoving && wentOn)).toEqual([]);
  // What is dropped while it stands spoils nothing; in the soak it is counted, frame by frame.
  const soak = session.view.steps.find(({ routine }) => routine === "soak")?.judged;
  const dropped = fates.filter((fate) => fate === "dropped").length;
  expect(soak?.rig.dropped).toBeLessThanOrEqual(dropped);
  expect(soak?.rig.lost).toBe(false);
});

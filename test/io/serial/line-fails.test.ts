import { spawn } from "node:child_process";
import { mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test, vi } from "vitest";
import { benchOn, fill, holdTheStallWatch, isFree, sample, sendAndSee, until } from "./cable-bench.ts";

const folder = mkdtempSync(join(tmpdir(), "line-"));

test("a cable pulled out in the middle is noticed, and a new one goes on from the same frame", async () => {
  const path = join(folder, "replugged");
  const before = benchOn(path);
  symlinkSync(before.pair.path, path);
  await before.open();
  for (let frame = 0; frame < 100; frame += 1) await sendAndSee(before, frame);
  before.pair.pullOut();
  await until(() => before.losses.length > 0);
  expect(before.losses.map(({ code }) => code)).toEqual(["unplugged"]);
  expect(before.line.send(sample(100))).toBe("dropped");
  await expect(before.open()).rejects.toMatchObject({ name: "LineError", code: "unplugged" });

  const after = benchOn();
  rmSync(path);
  symlinkSync(after.pair.path, path);
  await after.open(before.line);
  for (let frame = 100; frame < 200; frame += 1) await sendAndSee({ ...after, line: before.line }, frame);
  const packets = [...before.decoder.packets, ...after.decoder.packets];
  expect(packets).toEqual(Array.from({ length: 200 }, (_, frame) => [...sample(frame)]));
  expect([before.losses.length, after.losses.length]).toEqual([1, 0]);
});

test("a cable pulled out while nothing is sent is noticed too", async () => {
  const { pair, losses, open } = benchOn();
  await open();
  pair.pullOut();
  await until(() => losses.length > 0);
  expect(losses[0]).toMatchObject({ code: "unplugged" });
});

test("an interface that takes no data for a second is lost, told once, and given back at once", async () => {
  const bench = benchOn();
  await bench.open();
  holdTheStallWatch();
  bench.pair.stopReading();
  await fill(bench.line);
  vi.advanceTimersByTime(999);
  expect(bench.losses).toEqual([]);
  vi.advanceTimersByTime(1);
  expect(bench.losses.map(({ code }) => code)).toEqual(["stalled"]);
  expect(bench.line.send(sample(8))).toBe("dropped");
  // No timer moves from here on: whatever waited for the interface would wait for ever.
  await bench.open();
  await bench.line.close();
  expect(bench.losses.length).toBe(1);
});

test("a computer that slept for more than a second does not blame the interface", async () => {
  const bench = benchOn();
  await bench.open();
  holdTheStallWatch();
  expect(bench.line.send(sample(1))).toBe("sent");
  // On waking, timers whose time is over come first, each once, and only then what the system has to tell.
  vi.advanceTimersToNextTimer();
  await until(isFree);
  expect(bench.losses).toEqual([]);
  await sendAndSee(bench, 2);
});

test("closing does not wait for an interface that hangs", async () => {
  const bench = benchOn();
  await bench.open();
  holdTheStallWatch();
  bench.pair.stopReading();
  await fill(bench.line);
  let closed = false;
  const closing = bench.line.close().then(() => {
    closed = true;
  });
  await until(() => vi.getTimerCount() > 1);
  vi.advanceTimersByTime(500);
  await closing;
  expect([closed, bench.losses.length]).toEqual([true, 0]);
});

test("a port that another program has open is busy, until that program ends", async () => {
  const bench = benchOn();
  const script = `import { SerialPort } from "serialport";
    const port = new SerialPort({ path: process.argv[1], baudRate: 250000 });
    port.on("data", () => {}); // Or it would end at once.
    port.on("open", () => console.log("open"));`;
  const other = spawn(process.execPath, ["--input-type=module", "--eval", script, bench.pair.path]);
  await new Promise((resolve) => other.stdout.once("data", resolve));
  await expect(bench.open()).rejects.toMatchObject({
    code: "busy",
    message: expect.stringContaining("another program"),
  });
  other.kill();
  await new Promise((resolve) => other.once("exit", resolve));
  await bench.open();
  await sendAndSee(bench, 9);
});

import { spawn } from "node:child_process";
import { mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, expect, test, vi } from "vitest";
import { handClock } from "../../src/clock/hand-clock.ts";
import type { DmxLine, LineError } from "../../src/ports.ts";
import { framedLine } from "../../src/serial/framed-line.ts";
import type { Reply } from "../../src/wire/reply.ts";
import { lineDecoder } from "../kit/line-decoder.ts";
import { type PtyPair, ptyPair } from "../kit/pty.ts";

/** Any frame: every level occurs, the start and end bytes of the messages too, and no two frames are alike. */
const sample = (frame: number) =>
  Uint8Array.from({ length: 512 }, (_, slot) =>
    slot < 2 ? (frame >> (8 * slot)) & 255 : (frame * 31 + slot * 17) & 255,
  );
const turn = () => new Promise((resolve) => setImmediate(resolve));
/** Waits for the world, not for time. */
const until = async (happened: () => boolean) => {
  while (!happened()) await turn();
};

/** An interface at the end of a cable, and a DMX line opened on it. */
const benchOn = (path?: string) => {
  const decoder = lineDecoder();
  const pair = ptyPair(decoder.take);
  const line = framedLine(path ?? pair.path);
  const losses: LineError[] = [];
  const open = async (on: DmxLine = line) => {
    await on.open((error) => losses.push(error));
    pair.taken();
  };
  opened.push({ line, pair });
  return { decoder, pair, line, losses, open };
};
const opened: { readonly line: DmxLine; readonly pair: PtyPair }[] = [];
const folder = mkdtempSync(join(tmpdir(), "line-"));

afterEach(async () => {
  vi.useRealTimers();
  for (const { line, pair } of opened.splice(0)) {
    await line.close();
    pair.pullOut();
  }
});

/** Only the clock of the stall watch is held by hand; it runs exactly while the line waits for the system to take a frame. */
const holdTheStallWatch = () =>
  vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout", "setInterval", "clearInterval"] });
const isFree = () => vi.getTimerCount() === 0;

/** Sends one frame and waits until the interface has it. */
const sendAndSee = async ({ line, decoder }: ReturnType<typeof benchOn>, frame: number) => {
  const before = decoder.packets.length;
  await until(() => line.send(sample(frame)) === "sent");
  await until(() => decoder.packets.length > before);
};

test("in a minute of frames none is missing, and each is what was sampled at its number", async () => {
  const bench = benchOn();
  await bench.open();
  holdTheStallWatch();
  const clock = handClock();
  const sent: number[] = [];
  const dropped: number[] = [];
  clock.start(({ frame }) => (bench.line.send(sample(frame)) === "sent" ? sent : dropped).push(frame));
  for (let n = 0; n < 2400; n += 1) {
    clock.tick();
    await until(isFree);
  }
  await until(() => bench.decoder.packets.length === sent.length);
  expect(dropped).toEqual([]);
  expect(sent).toEqual(Array.from({ length: 2400 }, (_, n) => n));
  expect(bench.decoder.packets.map((packet) => Buffer.from(packet).toString("hex"))).toEqual(
    sent.map((frame) => Buffer.from(sample(frame)).toString("hex")),
  );
  expect(bench.decoder.strays).toBe(0);
});

test("the interface is asked what it is, and need not answer", async () => {
  const bench = benchOn();
  await bench.open();
  await sendAndSee(bench, 1);
  // Label 3 is the question for parameters; framed serial messages, secondary.
  expect(bench.decoder.otherLabels).toEqual([3]);
});

test("what the interface says of itself is heard, noise around it or not", async () => {
  const { pair, open } = benchOn();
  const replies: Reply[] = [];
  const line = framedLine(pair.path, (reply) => replies.push(reply));
  await open(line);
  pair.say(Uint8Array.of(0xaa, 0x7e, 0x03, 0x05, 0x00, 0x44, 0x01, 0x11));
  pair.say(Uint8Array.of(0x02, 0x28, 0xe7, 0xbb));
  await until(() => replies.length > 0);
  await line.close();
  expect(replies).toEqual([
    { kind: "parameters", firmware: 0x144, breakTime: 17 * 10.67, markTime: 2 * 10.67, rate: 40 },
  ]);
});

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

/** Sends until the interface, which no longer reads, takes no more. */
const fill = async (line: DmxLine) => {
  let sent = 0;
  for (let refused = 0; refused < 1000; await turn()) {
    const taken = line.send(sample(7)) === "sent";
    sent += taken ? 1 : 0;
    refused = taken ? 0 : refused + 1;
  }
  return sent;
};

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

test("while one frame waits the next are dropped, not queued", async () => {
  const bench = benchOn();
  await bench.open();
  await sendAndSee(bench, 0);
  await until(() => bench.line.send(sample(1)) === "sent");
  expect([2, 3, 4].map((frame) => bench.line.send(sample(frame)))).toEqual(["dropped", "dropped", "dropped"]);
  await until(() => bench.decoder.packets.length === 2);
  await sendAndSee(bench, 5);
  expect(bench.decoder.packets).toEqual([0, 1, 5].map((frame) => [...sample(frame)]));
});

test("closing lets the last frame out, even one that still waits", async () => {
  const bench = benchOn();
  await bench.open();
  holdTheStallWatch();
  bench.pair.stopReading();
  const sent = await fill(bench.line);
  const closing = bench.line.close();
  bench.pair.readOn();
  await closing;
  await until(() => bench.decoder.packets.length === sent);
});

test("after closing, frames are dropped and nothing is lost", async () => {
  const bench = benchOn();
  await bench.open();
  await bench.line.close();
  expect(bench.line.send(sample(4))).toBe("dropped");
  expect(bench.losses).toEqual([]);
});

test("opening waits while the last frame is still on its way out", async () => {
  const bench = benchOn();
  await bench.open();
  holdTheStallWatch();
  bench.pair.stopReading();
  const sent = await fill(bench.line);
  const both = Promise.all([bench.line.close(), bench.open()]);
  bench.pair.readOn();
  await both;
  await sendAndSee(bench, 1);
  expect(bench.decoder.packets.length).toBe(sent + 1);
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

test("its name is what the technician wrote", () => {
  expect(framedLine("/dev/ttyUSB0").name).toBe("serial:/dev/ttyUSB0");
});

import { expect, test } from "vitest";
import { framedLine } from "../../../src/io/serial/framed-line.ts";
import type { InterfaceReply } from "../../../src/wire/messages.ts";
import { handClock } from "../../kit/hand-clock.ts";
import { benchOn, fill, holdTheStallWatch, isFree, sample, sendAndSee, until } from "./cable-bench.ts";

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
  // Label 10 is the question for its number, 3 for its parameters; framed serial messages, secondary.
  expect(bench.decoder.otherLabels).toEqual([10, 3]);
});

test("what the interface says of itself is heard, noise around it or not", async () => {
  const { pair, open } = benchOn();
  const replies: InterfaceReply[] = [];
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

test("its name is what the technician wrote", () => {
  expect(framedLine("/dev/ttyUSB0").name).toBe("serial:/dev/ttyUSB0");
});

import { chmodSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { breakLine } from "../../../src/io/serial/break-line.ts";
import { framedLine } from "../../../src/io/serial/framed-line.ts";
import type { InterfaceIdentity } from "../../../src/run/events/interface-met.ts";
import type { DmxLine } from "../../../src/run/ports.ts";
import { lineDecoder } from "../../kit/line-decoder.ts";
import { ptyPair } from "../../kit/pty.ts";
import { sample, until } from "./cable-bench.ts";

const folder = mkdtempSync(join(tmpdir(), "meeting-"));
const path = join(folder, "usb");
const systemPath = process.env["PATH"];
let tidy: (() => void)[] = [];

/** What the system tells of its ports: the form of udevadm info -e, from memory. */
const systemTells = (lines: readonly string[]) => {
  writeFileSync(join(folder, "udevadm"), `#!/bin/sh\n${lines.map((line) => `echo "${line}"`).join("\n")}\n`);
  chmodSync(join(folder, "udevadm"), 0o755);
  process.env["PATH"] = `${folder}:${systemPath}`;
};
beforeEach(() => systemTells([]));
afterEach(() => {
  process.env["PATH"] = systemPath;
  for (const one of tidy) one();
  tidy = [];
});

/** An interface that says its number (label 10, four bytes, the lowest first; framed serial messages, secondary). */
const plugIn = (number: number | undefined) => {
  const decoder = lineDecoder();
  let asked = 0;
  const pair = ptyPair((bytes) => {
    pair.taken();
    decoder.take(bytes);
    for (; asked < decoder.otherLabels.length; asked += 1)
      if (decoder.otherLabels[asked] === 10 && number !== undefined)
        pair.say(
          Uint8Array.of(0x7e, 10, 4, 0, number & 255, (number >> 8) & 255, (number >> 16) & 255, number >>> 24, 0xe7),
        );
  });
  rmSync(path, { force: true });
  symlinkSync(pair.path, path);
  tidy.push(() => pair.pullOut());
  return { decoder, pair };
};

/** Opens it, and gives who was met, or why it was refused. */
const openTo = async (line: DmxLine, known?: InterfaceIdentity) => {
  const met: InterfaceIdentity[] = [];
  tidy.push(() => void line.close());
  const refused = await line
    .open(() => {}, { known, met: (identity) => met.push(identity) })
    .then(
      () => undefined,
      (error: Error) => error,
    );
  return { met, refused };
};

test("an interface that says its number is known by it", async () => {
  plugIn(0x01020304);
  const { met, refused } = await openTo(framedLine(path));
  expect([met, refused]).toEqual([[{ number: "16909060", usb: "" }], undefined]);
});

test.each([
  { number: undefined, because: "it stays silent" },
  { number: 0xffffffff, because: "it was never given one" },
])("of one without a number nothing is told, and it is used: $because", async ({ number }) => {
  const { decoder } = plugIn(number);
  const line = framedLine(path);
  const { met, refused } = await openTo(line);
  expect([met, refused]).toEqual([[], undefined]);
  await until(() => line.send(sample(1)) === "sent");
  await until(() => decoder.packets.length > 0);
});

test("another one under the same name is refused in words, and no frame reaches it, whatever is sent", async () => {
  const { decoder } = plugIn(8);
  const line = framedLine(path);
  const { met, refused } = await openTo(line, { number: "7", usb: "" });
  expect(met).toEqual([]);
  expect(refused).toMatchObject({
    name: "StrangerError",
    identity: { number: "8", usb: "" },
    message: `the interface on ${path} may be another: it says it is number 8; the one before was number 7`,
  });
  expect([1, 2, 3].map((frame) => line.send(sample(frame)))).toEqual(["dropped", "dropped", "dropped"]);
  await line.close();
  expect(decoder.packets).toEqual([]);
});

test("once a person agrees to it, the same one is opened", async () => {
  const { decoder } = plugIn(8);
  const line = framedLine(path);
  await openTo(line, { number: "7", usb: "" });
  expect((await openTo(line, { number: "8", usb: "" })).refused).toBeUndefined();
  await until(() => line.send(sample(1)) === "sent");
  await until(() => decoder.packets.length > 0);
});

test("a cable that is pulled out while it is asked who is there is a line that does not open", async () => {
  const decoder = lineDecoder();
  const pair = ptyPair((bytes) => {
    pair.taken();
    decoder.take(bytes);
    if (decoder.otherLabels.includes(10)) pair.pullOut();
  });
  rmSync(path, { force: true });
  symlinkSync(pair.path, path);
  const { met, refused } = await openTo(framedLine(path));
  expect(met).toEqual([]);
  expect(refused).toMatchObject({ name: "LineError", code: "unplugged" });
});

test.runIf(process.platform === "linux").each([
  { kind: "framed", make: () => framedLine(path) },
  { kind: "break", make: () => breakLine(path, 24) },
])("$kind: another device on USB is refused before a single byte is sent to it", async ({ make }) => {
  const { decoder, pair } = plugIn(7);
  systemTells([
    `P: ${pair.path}`,
    "N: ttyUSB0",
    `E: DEVNAME=${path}`,
    "E: ID_VENDOR_ID=2341",
    "E: ID_MODEL_ID=0043",
    "E: ID_SERIAL_SHORT=PLOTTER",
    "",
  ]);
  const { refused } = await openTo(make(), { number: "7", usb: "0403:6001 A1B2C3" });
  expect(refused).toMatchObject({
    name: "StrangerError",
    message: expect.stringContaining("on USB it is 2341:0043 PLOTTER; the one before was 0403:6001 A1B2C3"),
  });
  expect([decoder.packets, decoder.otherLabels, decoder.strays]).toEqual([[], [], 0]);
});

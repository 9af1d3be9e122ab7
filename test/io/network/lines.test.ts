import { readdirSync, readFileSync, readlinkSync } from "node:fs";
import { afterEach, expect, test } from "vitest";
import { artNetLine, sacnLine } from "../../../src/io/network/lines.ts";
import type { DmxLine, LineError } from "../../../src/run/ports.ts";
import { loopbackAddress, receiverAt } from "./receiver.ts";

const levelsOf = (frame: number) => Uint8Array.from({ length: 512 }, (_, slot) => (frame * 31 + slot * 17) & 255);
const turn = () => new Promise((resolve) => setImmediate(resolve));
const until = async (happened: () => boolean) => {
  while (!happened()) await turn();
};

const lines: DmxLine[] = [];
const kept = (line: DmxLine) => {
  lines.push(line);
  return line;
};
afterEach(async () => {
  for (const line of lines.splice(0)) await line.close();
});

/** Sends one frame when the one before has left. */
const send = (line: DmxLine, frame: number) => until(() => line.send(levelsOf(frame)) === "sent");

/**
 * Ports and places in a packet. sACN: ANSI E1.31-2018, table 4-1 and clause 9.1.2 (port 5568, sequence number in octet 111, first level in octet 126).
 * Art-Net 4, packet ArtDmx: port 0x1936, Sequence in byte 12, Data from byte 18; its sequence runs from 1 to 255, 0 means "none".
 * From memory, not read again for this test.
 */
const PROTOCOLS = [
  { protocol: "sACN", port: 5568, line: (to: string) => sacnLine("net", 7, to), slots: 126, sequenceAt: 111, first: 0 },
  {
    protocol: "Art-Net",
    port: 6454,
    line: (to: string) => artNetLine("net", 7, to),
    slots: 18,
    sequenceAt: 12,
    first: 1,
  },
];

test.each(PROTOCOLS)("$protocol: 300 frames arrive as they were given, numbered one after the other", async (one) => {
  const address = loopbackAddress();
  const receiver = await receiverAt(address, one.port);
  const line = kept(one.line(address));
  await line.open(() => {});
  for (let frame = 0; frame < 300; frame += 1) {
    await send(line, frame);
    await receiver.heard(frame + 1);
  }
  const read = receiver.packets.map((packet) => packet.subarray(one.slots).toString("hex"));
  expect(read).toEqual(read.map((_, frame) => Buffer.from(levelsOf(frame)).toString("hex")));
  const wrap = 256 - one.first;
  expect(receiver.packets.map((packet) => packet[one.sequenceAt])).toEqual(
    read.map((_, frame) => one.first + (frame % wrap)),
  );
});

test("sACN: a stream ends with three packets that say so, numbered on; one that never began says nothing", async () => {
  const address = loopbackAddress();
  const receiver = await receiverAt(address, 5568);
  const line = kept(sacnLine("net", 7, address));
  await line.open(() => {});
  await line.close();
  await line.open(() => {});
  await send(line, 1);
  await line.close();
  await receiver.heard(4);
  expect(receiver.packets.map((packet) => [packet[111], packet[112]])).toEqual([
    [0, 0],
    [1, 0x40],
    [2, 0x40],
    [3, 0x40],
  ]);
  expect(receiver.packets[3]?.subarray(126).equals(levelsOf(1))).toBe(true);
});

test("sACN: all universes of this program come from one source", async () => {
  const address = loopbackAddress();
  const receiver = await receiverAt(address, 5568);
  for (const universe of [1, 2]) {
    const line = kept(sacnLine("net", universe, address));
    await line.open(() => {});
    await send(line, 0);
  }
  await receiver.heard(2);
  const [first, second] = receiver.packets.map((packet) => packet.subarray(22, 38).toString("hex"));
  expect(first).toBe(second);
  expect(first).not.toBe("0".repeat(32));
  expect(receiver.packets.map((packet) => packet.readUInt16BE(113))).toEqual([1, 2]);
});

test.each(PROTOCOLS)(
  "$protocol: a receiver that takes nothing is a loss with words, once; it opens again when it does",
  async ({ protocol, port, line: lineTo }) => {
    const address = loopbackAddress();
    const losses: LineError[] = [];
    const line = kept(lineTo(address));
    await line.open((error) => losses.push(error));
    await until(() => {
      line.send(levelsOf(5));
      return losses.length > 0;
    });
    expect(losses.map(({ name, code }) => [name, code])).toEqual([["LineError", "refused"]]);
    expect(losses[0]?.message).toBe(
      `${address} is there but takes no ${protocol}: another address was meant, or ${protocol} is switched off in it`,
    );
    expect(line.send(levelsOf(6))).toBe("dropped");
    await expect(line.open(() => {})).rejects.toMatchObject({ code: "refused" });

    const receiver = await receiverAt(address, port);
    await line.open((error) => losses.push(error));
    await receiver.heard(1);
    await send(line, 7);
    await receiver.heard(2);
    expect(receiver.packets[1]?.includes(Buffer.from(levelsOf(7)))).toBe(true);
    expect(losses.length).toBe(1);
  },
);

test.each(PROTOCOLS)("$protocol: a broadcast address is refused, and nothing goes there", async ({ line }) => {
  await expect(kept(line("127.255.255.255")).open(() => {})).rejects.toMatchObject({
    code: "refused",
    message: expect.stringContaining("broadcast"),
  });
});

test("after closing, frames are dropped and nothing is lost; closing twice is closing once", async () => {
  const address = loopbackAddress();
  await receiverAt(address, 5568);
  const losses: LineError[] = [];
  const line = kept(sacnLine("net", 1, address));
  await line.open((error) => losses.push(error));
  await line.close();
  await line.close();
  expect([line.send(levelsOf(0)), losses]).toEqual(["dropped", []]);
});

test.runIf(process.platform === "linux")(
  "no socket hears anybody but its receiver, none stands on the port of the protocol, none stays",
  async () => {
    const address = loopbackAddress();
    await receiverAt(address, 6454);
    const before = ownSockets();
    const line = kept(artNetLine("net", 0, address));
    await line.open(() => {});
    await send(line, 0);
    const mine = ownSockets().filter((socket) => !before.includes(socket));
    expect(mine.length).toBe(1);
    // Local address:port, then the peer's: /proc/net/udp, addresses as little-endian hex; state 01 is connected.
    expect(mine[0]).toMatch(/^(?!00000000)[0-9A-F]{8}:(?!1936)[0-9A-F]{4} (?!00000000)[0-9A-F]{8}:1936 01$/);
    await line.close();
    expect(ownSockets()).toEqual(before);
  },
);

/** The UDP sockets of this process. */
const ownSockets = (): readonly string[] => {
  const inodes = new Set(socketInodes());
  return readFileSync("/proc/net/udp", "utf8")
    .split("\n")
    .slice(1)
    .map((row) => row.trim().split(/\s+/))
    .filter((cells) => inodes.has(cells[9] ?? ""))
    .map(([, local, peer, state]) => `${local} ${peer} ${state}`);
};

const socketInodes = (): readonly string[] =>
  readdirSync("/proc/self/fd").flatMap((fd) => {
    try {
      return /^socket:\[(\d+)\]$/.exec(readlinkSync(`/proc/self/fd/${fd}`))?.[1] ?? [];
    } catch {
      return [];
    }
  });

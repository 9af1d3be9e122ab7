import { expect, test } from "vitest";
import { channelOn, networkTrouble, type UdpSocket } from "../../../src/io/network/channel.ts";
import type { LineError } from "../../../src/run/ports.ts";

const target = { protocol: "sACN", address: "10.0.0.5", port: 5568 };
const levels = new Uint8Array(512);
const settled = () => new Promise((resolve) => setImmediate(resolve));

/** A socket with levers: it takes packets or does not, fails with an error of the system, loses its address. */
const bench = () => {
  const levers = { takes: true, fails: undefined as Error | undefined, hasAddress: true };
  const packets: Uint8Array[] = [];
  let broken: (cause: Error) => void = () => {};
  let closed = 0;
  const socket: UdpSocket = {
    send: (packet) => {
      if (levers.fails) return Promise.reject(levers.fails);
      packets.push(packet);
      return levers.takes ? Promise.resolve() : new Promise(() => {});
    },
    broken: (listen) => {
      broken = listen;
    },
    hasAddress: () => levers.hasAddress,
    close: async () => {
      closed += 1;
    },
  };
  const losses: LineError[] = [];
  const writer = { frame: (of: Uint8Array) => of, farewell: () => [Uint8Array.of(9)] };
  const channel = channelOn(socket, target, writer, (error) => losses.push(error));
  return { levers, packets, channel, losses, closed: () => closed, broken: (cause: Error) => broken(cause) };
};

const systemError = (code: string) => Object.assign(new Error(`send ${code}`), { code });

test("while one frame waits the next are dropped, not queued; after a second of that the adapter hangs", async () => {
  const { levers, packets, channel, losses, closed } = bench();
  levers.takes = false;
  expect(channel.send(levels)).toBe("sent");
  for (let dropped = 1; dropped < 40; dropped += 1) expect(channel.send(levels)).toBe("dropped");
  expect(losses).toEqual([]);
  expect(channel.send(levels)).toBe("dropped");
  expect(losses.map(({ code }) => code)).toEqual(["stalled"]);
  expect([packets.length, closed()]).toEqual([1, 1]);
});

test("frames dropped now and then are no hanging adapter", async () => {
  const { channel, losses } = bench();
  for (let frame = 0; frame < 400; frame += 1) {
    expect([channel.send(levels), channel.send(levels)]).toEqual(["sent", "dropped"]);
    await settled();
  }
  expect(losses).toEqual([]);
});

test("an address that is gone is a cable that is out, noticed within a second of frames", async () => {
  const { levers, channel, losses } = bench();
  levers.hasAddress = false;
  for (let frame = 0; frame < 40; frame += 1) {
    channel.send(levels);
    await settled();
  }
  expect(losses.map(({ code }) => code)).toEqual(["unplugged"]);
  expect(channel.send(levels)).toBe("dropped");
});

test("a send that fails is a loss, told once, and the socket is closed; nothing is said after it", async () => {
  const { levers, channel, losses, closed, packets, broken } = bench();
  levers.fails = systemError("ENETUNREACH");
  channel.send(levels);
  await settled();
  broken(systemError("ECONNREFUSED"));
  await channel.close();
  expect(losses.map(({ code }) => code)).toEqual(["unreachable"]);
  expect([closed(), packets]).toEqual([1, []]);
});

test("closing says farewell, also where the system no longer takes it", async () => {
  const well = bench();
  await well.channel.close();
  expect(well.packets).toEqual([Uint8Array.of(9)]);
  const ill = bench();
  ill.levers.fails = systemError("ENETDOWN");
  await ill.channel.close();
  expect([ill.losses, ill.closed()]).toEqual([[], 1]);
});

// The names of errors are POSIX's (errno.h); the words are ours.
test.each([
  { system: "ENETUNREACH", code: "unreachable", says: "no way to 10.0.0.5" },
  { system: "EADDRNOTAVAIL", code: "unreachable", says: "no way to 10.0.0.5" },
  { system: "ENETDOWN", code: "unreachable", says: "no way to 10.0.0.5" },
  { system: "EHOSTUNREACH", code: "unreachable", says: "is it switched on" },
  { system: "ECONNREFUSED", code: "refused", says: "takes no sACN" },
  { system: "EPERM", code: "no-permission", says: "UDP out to port 5568" },
  { system: "EACCES", code: "refused", says: "broadcast address" },
  { system: "ENOBUFS", code: "stalled", says: "takes no more data" },
  { system: "EWHATEVER", code: "refused", says: "sACN cannot be sent to 10.0.0.5: Error: send EWHATEVER" },
])("$system is $code", ({ system, code, says }) => {
  const error = networkTrouble(target, systemError(system));
  expect(error).toMatchObject({ name: "LineError", code, cause: { code: system } });
  expect(error.message).toContain(says);
});

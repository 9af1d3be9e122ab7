import { createSocket } from "node:dgram";
import { createServer, type Server } from "node:net";
import type { Cable } from "../../../src/sim/rdm/cable.ts";

/** An Art-Net gateway on this computer with simulated fixtures behind it. It reads and writes packets by itself. */
export interface Gateway {
  readonly close: () => Promise<void>;
}

const HEAD = [...Buffer.from("Art-Net\0")];

export const gatewayAt = async (address: string, universe: number, cable: Cable, blockSize = 200): Promise<Gateway> => {
  const turn = await turnOnThisComputer();
  const socket = createSocket("udp4");
  const [net, low] = [universe >> 8, universe & 255];
  const table = (block: number, uids: readonly (readonly number[])[], total: number) =>
    Buffer.from([
      ...HEAD,
      0x00,
      0x81,
      0,
      14,
      1,
      1,
      0,
      0,
      0,
      0,
      0,
      0,
      1,
      net,
      0,
      low,
      total >> 8,
      total & 255,
      block,
      uids.length,
      ...uids.flat(),
    ]);
  socket.on("message", (bytes, from) => {
    const answer = (packet: Uint8Array) => socket.send(packet, from.port, from.address);
    const opcode = bytes.readUInt16LE(8);
    const uids = cable.responders.map(({ device }) => device.uid);
    if (opcode === 0x8000 && bytes[21] === net && bytes[24] === low)
      for (let at = 0; at < Math.max(1, uids.length); at += blockSize)
        answer(table(at / blockSize, uids.slice(at, at + blockSize), uids.length));
    if (opcode !== 0x8300 || bytes[23] !== low) return;
    const said = cable.send(Uint8Array.from([0xcc, ...bytes.subarray(24)]));
    if (said)
      answer(
        Uint8Array.from([...HEAD, 0x00, 0x83, 0, 14, 1, 0, ...Array(7).fill(0), net, 0, low, ...said.subarray(1)]),
      );
  });
  await new Promise<void>((resolve) => socket.bind(6454, address, resolve));
  return {
    close: async () => {
      await new Promise<void>((resolve) => socket.close(() => resolve()));
      await new Promise<void>((resolve) => turn.close(() => resolve()));
    },
  };
};

/**
 * Whoever asks a gateway binds the one port of Art-Net, so of all tests that run at the same time one has a gateway and the
 * others wait. The turn is a port as well: the system gives it back even where a test process ends badly.
 */
const turnOnThisComputer = async (): Promise<Server> => {
  for (;;) {
    const turn = createServer();
    const isOurs = await new Promise<boolean>((resolve) => {
      turn.once("error", () => resolve(false));
      turn.listen({ host: "127.0.0.1", port: 6454, exclusive: true }, () => resolve(true));
    });
    if (isOurs) return turn;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
};

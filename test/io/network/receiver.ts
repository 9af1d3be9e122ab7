import { createSocket } from "node:dgram";
import { afterEach } from "vitest";

/** A receiver on this computer, at a loopback address of its own, so that no other test hears the same. */
export interface Receiver {
  readonly packets: readonly Buffer[];
  /** Resolves when so many packets have come in all. */
  heard(count: number): Promise<void>;
  /** Resolves when what has come in all fits. */
  until(fits: (packets: readonly Buffer[]) => boolean): Promise<void>;
  close(): Promise<void>;
}

/** `whenOver`: closes it by itself after each test; one that runs beside others says when it is over itself. */
export const receiverAt = async (
  address: string,
  port: number,
  whenOver: (close: () => Promise<void>) => void = (close) => opened.push(close),
): Promise<Receiver> => {
  const packets: Buffer[] = [];
  const waiting = new Set<() => void>();
  const socket = createSocket("udp4", (packet) => {
    packets.push(packet);
    for (const look of waiting) look();
  });
  await new Promise<void>((resolve) => socket.bind(port, address, resolve));
  let open = true;
  const close = async () => {
    if (open) await new Promise<void>((resolve) => socket.close(() => resolve()));
    open = false;
  };
  whenOver(close);
  const until: Receiver["until"] = (fits) =>
    new Promise((resolve) => {
      const look = () => {
        if (!fits(packets)) return;
        waiting.delete(look);
        resolve();
      };
      waiting.add(look);
      look();
    });
  return { packets, heard: (count) => until(({ length }) => length >= count), until, close };
};

const opened: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of opened.splice(0)) await close();
});

/** Different in every test file and every test run at the same time. */
export const loopbackAddress = () => `127.${1 + (process.pid % 250)}.${Math.floor(process.pid / 250) % 250}.${++count}`;
let count = 0;

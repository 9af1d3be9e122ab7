import { afterEach, vi } from "vitest";
import { framedLine } from "../../../src/io/serial/framed-line.ts";
import type { DmxLine, LineError } from "../../../src/run/ports.ts";
import { type LineDecoder, lineDecoder } from "../../kit/line-decoder.ts";
import { type PtyPair, ptyPair } from "../../kit/pty.ts";

/** An interface at the end of a cable, the DMX line on it, and what was heard of its losses. */
export interface CableBench {
  readonly decoder: LineDecoder;
  readonly pair: PtyPair;
  readonly line: DmxLine;
  readonly losses: readonly LineError[];
  /** Opens our DMX line, or another on the same cable. */
  open(on?: DmxLine): Promise<void>;
}

/** Any frame: every level occurs, the start and end bytes of the messages too, and no two frames are alike. */
export const sample = (frame: number) =>
  Uint8Array.from({ length: 512 }, (_, slot) =>
    slot < 2 ? (frame >> (8 * slot)) & 255 : (frame * 31 + slot * 17) & 255,
  );
const turn = () => new Promise((resolve) => setImmediate(resolve));
/** Waits for the world, not for time. */
export const until = async (happened: () => boolean) => {
  while (!happened()) await turn();
};

/** The path is the cable's own unless the port is to be found under another name. */
export const benchOn = (path?: string): CableBench => {
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

afterEach(async () => {
  vi.useRealTimers();
  for (const { line, pair } of opened.splice(0)) {
    await line.close();
    pair.pullOut();
  }
});

/** Only the clock of the stall watch is held by hand; it runs exactly while the line waits for the system to take a frame. */
export const holdTheStallWatch = () =>
  vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout", "setInterval", "clearInterval"] });
export const isFree = () => vi.getTimerCount() === 0;

/** Sends one frame and waits until the interface has it. */
export const sendAndSee = async ({ line, decoder }: CableBench, frame: number) => {
  const before = decoder.packets.length;
  await until(() => line.send(sample(frame)) === "sent");
  await until(() => decoder.packets.length > before);
};

/** Sends until the interface, which no longer reads, takes no more. */
export const fill = async (line: DmxLine) => {
  let sent = 0;
  for (let refused = 0; refused < 1000; await turn()) {
    const taken = line.send(sample(7)) === "sent";
    sent += taken ? 1 : 0;
    refused = taken ? 0 : refused + 1;
  }
  return sent;
};

import { performance } from "node:perf_hooks";
import { type DmxLine, LineError } from "../../run/ports.ts";
import { reopenedLine } from "../../run/shell/reopened-line.ts";
import { type Microseconds, packetTime } from "../../wire/packet-time.ts";
import { introduce, meetOnUsb } from "./devices.ts";
import { openPort, type PortSpeech, type Wires } from "./port.ts";

/**
 * A DMX line on a plain serial adapter, on which the computer itself makes every break and mark. Never
 * tried on a real adapter. `slots` is the last slot that anybody listens to, 1 to 512: the fewer, the
 * surer a packet fits between two frames.
 */
export const breakLine = (path: string, slots: number): DmxLine =>
  reopenedLine(`break:${path}`, async (lost, meeting) => {
    if (meeting) introduce(path, meeting, { number: "", usb: await meetOnUsb(path, meeting) });
    return openPort(path, breakSpeech(path, slots, thisPatience), { received: () => {}, lost });
  });

/** Waits for at least this time. */
export interface Patience {
  /** Monotonic. */
  now(): Microseconds;
  /** Stands still; never for less. */
  hold(time: Microseconds): void;
  /** Lets everything else go on meanwhile; never less. At once when there is nothing to wait for. */
  pause(time: Microseconds): Promise<void>;
}

/** Twice and more what a sender owes (92 and 12 us, ANSI E1.11): the system may cut nothing off, and what it adds does no harm. */
const BREAK: Microseconds = 184;
const MARK: Microseconds = 24;
/** Fewer, and the breaks would follow too soon (ANSI E1.11). */
const FEWEST_SLOTS = 24;

/**
 * What is said on such a port. Break and mark are both waited for, from the moment the system says that the line has
 * changed until it is asked to change it again; what it takes for that comes on top. A packet is over when the port
 * says so and its bits have had their time. Rejects with LineError where the port can make no break. `slots` is the
 * last slot that anybody listens to, 1 to 512.
 */
export const breakSpeech = (path: string, slots: number, patience: Patience): PortSpeech => ({
  greet: (wires) =>
    switched(wires, "mark").catch((cause: unknown) => {
      throw cannotBreak(path, cause);
    }),
  say: async (wires, levels) => {
    await switched(wires, "break");
    patience.hold(BREAK);
    await switched(wires, "mark");
    patience.hold(MARK);
    const begun = patience.now();
    const packet = packetOf(levels, slots);
    await written(wires, packet);
    await patience.pause(begun + packetTime(packet.length - 1) - patience.now());
  },
});

/** Start code 0, then the levels. */
const packetOf = (levels: Uint8Array, slots: number): Uint8Array => {
  const packet = new Uint8Array(1 + Math.min(levels.length, Math.max(slots, FEWEST_SLOTS)));
  packet.set(levels.subarray(0, packet.length - 1), 1);
  return packet;
};

/** RTS low: what switches the transmitter on where an adapter has such a switch (from memory, no source). */
const switched = (wires: Wires, to: "break" | "mark") =>
  told((done) => wires.set({ brk: to === "break", rts: false }, done));

const written = async (wires: Wires, packet: Uint8Array) => {
  await told((done) => wires.write(packet, undefined, done));
  await told((done) => wires.drain(done));
};

const told = (work: (done: (cause?: Error | null) => void) => void) =>
  new Promise<void>((resolve, reject) => work((cause) => (cause ? reject(cause) : resolve())));

const cannotBreak = (path: string, cause: unknown) =>
  new LineError(
    "not-a-port",
    `${path} cannot send a break, so it is not a plain serial adapter; an interface that times them itself is named serial:${path}`,
    { cause },
  );

const now = (): Microseconds => performance.now() * 1000;

export const thisPatience: Patience = {
  now,
  hold: (time) => {
    const end = now() + time;
    // Too short for the system's timers, which may come early besides.
    while (now() < end);
  },
  pause: async (time) => {
    const end = now() + time;
    for (let left = time; left > 0; left = end - now())
      await new Promise((resolve) => setTimeout(resolve, Math.ceil(left / 1000)));
  },
};

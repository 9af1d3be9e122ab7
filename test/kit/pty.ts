import { closeSync, fstatSync, readdirSync, statSync, writeSync } from "node:fs";
import { createRequire } from "node:module";
import type { ReadStream } from "node:tty";

/** The other end of a serial cable: a pseudo-terminal whose path opens like a port. */
export interface PtyPair {
  /** Give this to the program under test. */
  readonly path: string;
  /** Call when the program has it open: until then this side keeps it alive, and would steal what is said to the program. */
  taken(): void;
  /** Says bytes to the program. */
  say(bytes: Uint8Array): void;
  /** As much of the bytes as the program's side has room for just now: nobody waits for it. How many that were. */
  pour(bytes: Uint8Array): number;
  /** From now on takes nothing: the system's buffers fill up. */
  stopReading(): void;
  /** Takes again, first of all what has waited. */
  readOn(): void;
  /** Pulls the cable out. */
  pullOut(): void;
  /** Resolves when the cable is out and this side has given everything back. */
  readonly gone: Promise<unknown>;
}

/** The part of the package that its types leave out. */
interface OpensPairs {
  open(options: { readonly encoding: null }): {
    readonly _pty: string;
    readonly _fd: number;
    readonly master: ReadStream;
    readonly slave: ReadStream & { readonly _handle: { readonly fd: number } };
  };
}
const { open } = createRequire(import.meta.url)("@lydell/node-pty") as OpensPairs;

/** A new pair; everything the program writes comes to `hear`. */
export const ptyPair = (hear: (bytes: Uint8Array) => void): PtyPair => {
  const { _pty: path, _fd: end, master, slave } = open({ encoding: null });
  // A stream opens a terminal anew, and the package forgets the descriptor it began with. That one keeps the pair alive
  // while the program closes its side and opens it again, and nobody else closes it.
  const kept = descriptorsOf(statSync(path).rdev).filter((descriptor) => descriptor !== slave._handle.fd);
  // When the program closes its side this end reads an error: the other end of the story, not a fault.
  master.on("error", () => {});
  slave.on("error", () => {});
  master.on("data", hear);
  return {
    path,
    taken: () => slave.destroy(),
    say: (bytes) => {
      master.write(bytes);
    },
    pour: (bytes) => {
      try {
        return writeSync(end, bytes);
      } catch (error) {
        // No room, or the program has closed its side.
        if (error instanceof Error && "code" in error && ["EAGAIN", "EIO"].includes(String(error.code))) return 0;
        throw error;
      }
    },
    stopReading: () => {
      master.pause();
    },
    readOn: () => {
      master.resume();
    },
    pullOut: () => {
      for (const descriptor of kept.splice(0)) closeSync(descriptor);
      slave.destroy();
      master.destroy();
    },
    gone: Promise.all([slave, master].map((stream) => new Promise<void>((resolve) => stream.once("close", resolve)))),
  };
};

/** What this process has open of a device, by the number of its descriptor. */
export const descriptorsOf = (device: number): readonly number[] =>
  readdirSync("/dev/fd")
    .map(Number)
    .filter((descriptor) => deviceOf(descriptor) === device);

const deviceOf = (descriptor: number): number | undefined => {
  try {
    return fstatSync(descriptor).rdev;
  } catch {
    // What listed the descriptors is closed by now.
    return undefined;
  }
};

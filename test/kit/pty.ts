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
  /** From now on takes nothing: the system's buffers fill up. */
  stopReading(): void;
  /** Takes again, first of all what has waited. */
  readOn(): void;
  /** Pulls the cable out. */
  pullOut(): void;
}

/** The part of the package that its types leave out. */
interface OpensPairs {
  open(options: { readonly encoding: null }): {
    readonly _pty: string;
    readonly master: ReadStream;
    readonly slave: ReadStream;
  };
}
const { open } = createRequire(import.meta.url)("@lydell/node-pty") as OpensPairs;

/** A new pair; everything the program writes comes to `hear`. */
export const ptyPair = (hear: (bytes: Uint8Array) => void): PtyPair => {
  const { _pty: path, master, slave } = open({ encoding: null });
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
    stopReading: () => {
      master.pause();
    },
    readOn: () => {
      master.resume();
    },
    pullOut: () => {
      slave.destroy();
      master.destroy();
    },
  };
};

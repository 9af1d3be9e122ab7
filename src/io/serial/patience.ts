import { performance } from "node:perf_hooks";
import type { Microseconds } from "../../wire/packet-time.ts";

/** Waits for at least this time. */
export interface Patience {
  /** Monotonic. */
  now(): Microseconds;
  /** Stands still; never for less. */
  hold(time: Microseconds): void;
  /** Lets everything else go on meanwhile; never less. At once when there is nothing to wait for. */
  pause(time: Microseconds): Promise<void>;
}

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

import type { Milliseconds } from "../../domain/units.ts";
/**
 * A clock in milliseconds that never goes back and counts the time in which the computer slept. `monotonic` leaves that
 * time out on Linux; `uptime` does not, but is coarse. Both give milliseconds.
 */
export const countingSleep = (monotonic: () => Milliseconds, uptime: () => Milliseconds): (() => Milliseconds) => {
  const apart = uptime() - monotonic();
  let slept = 0;
  return () => {
    const now = monotonic();
    const missed = uptime() - now - apart;
    if (missed - slept >= SURELY_ASLEEP) slept = missed;
    return now + slept;
  };
};

/** Less than this may be the coarseness of the uptime. */
const SURELY_ASLEEP = 500;

import { minutesBetween } from "../events/at-work.ts";
import type { RunSummary } from "../events/summary.ts";

/**
 * Tells of each run to which first run it goes back over its replays: a check-in with the
 * replays after its repairs is one job.
 */
export const jobsIn = (runs: readonly RunSummary[]): ((run: string) => string) => {
  const replayed = new Map(runs.map(({ run, replays }) => [run, replays]));
  const root = (run: string, seen: ReadonlySet<string>): string => {
    const before = replayed.get(run);
    return before === undefined || seen.has(before) ? run : root(before, new Set([...seen, before]));
  };
  return (run) => root(run, new Set([run]));
};

/** The real runs, or all simulated ones where there is no real run: what a simulation says counts for no real fixture. */
export const realFirst = (runs: readonly RunSummary[]): readonly RunSummary[] => {
  const real = runs.filter(({ simulated }) => !simulated);
  return real.length > 0 ? real : runs;
};

/**
 * Hours from the latest event of the one run to the start of the other; what was written down late makes it 0, never less.
 */
export const hoursBetween = (before: RunSummary, after: RunSummary): number =>
  Math.max(0, minutesBetween(before.until, after.at) / 60);

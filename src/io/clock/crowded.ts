import { readdirSync, readFileSync } from "node:fs";
import { constants, getPriority, setPriority } from "node:os";
import type { Clock } from "../../run/ports.ts";

/** Whether this computer holds the beat of frames just now, and who else is at work on it. */
export interface Crowd {
  /** How many of `of` frames went out a whole frame late or were left out. */
  readonly late: number;
  readonly of: number;
  /** The busiest programs beside this one, and how much of one processor each took, in per cent. Empty where the system does not tell. */
  readonly busiest: readonly { readonly name: string; readonly percent: number }[];
}

const FRAMES = 80;
const MOST_NAMED = 3;
/** Less than this disturbs nobody. */
const BUSY_PERCENT = 10;

/** Lets the clock beat for two seconds, with nothing to send, and says how late its frames were. */
export const crowdHere = async (clock: Clock): Promise<Crowd> => {
  const before = timesTaken();
  const begun = performance.now();
  const late = await lateIn(clock);
  const ticks = ((performance.now() - begun) / 1000) * TICKS_PER_SECOND;
  const busiest = [...timesTaken()].map(([pid, { name, taken }]) => ({
    name,
    percent: Math.round((100 * (taken - (before.get(pid)?.taken ?? taken))) / ticks),
  }));
  return {
    late,
    of: FRAMES,
    busiest: busiest
      .filter(({ percent }) => percent >= BUSY_PERCENT)
      .sort((a, b) => b.percent - a.percent)
      .slice(0, MOST_NAMED),
  };
};

const lateIn = (clock: Clock): Promise<number> =>
  new Promise((resolve) => {
    let seen = 0;
    const stop = clock.start(({ frame }) => {
      seen += 1;
      if (frame < FRAMES - 1) return;
      stop();
      resolve(Math.max(0, FRAMES - seen));
    });
  });

/** The unit of the kernel's own account (USER_HZ of Linux, from memory). */
const TICKS_PER_SECOND = 100;

/** What every other process has used so far, by its number. Linux alone; elsewhere nothing. */
const timesTaken = (): ReadonlyMap<string, { readonly name: string; readonly taken: number }> => {
  if (process.platform !== "linux") return new Map();
  const others = readdirSync("/proc").filter((name) => /^\d+$/.test(name) && name !== String(process.pid));
  return new Map(
    others.flatMap((pid) => {
      const stat = statOf(pid);
      return stat ? [[pid, stat]] : [];
    }),
  );
};

/** "1234 (name, with anything in it) R 1 ...": the times stand at the 12th and 13th place after the name. */
const statOf = (pid: string) => {
  try {
    const text = readFileSync(`/proc/${pid}/stat`, "utf8");
    const end = text.lastIndexOf(")");
    const fields = text.slice(end + 2).split(" ");
    return { name: text.slice(text.indexOf("(") + 1, end), taken: Number(fields[11]) + Number(fields[12]) };
  } catch {
    // It has ended meanwhile.
    return undefined;
  }
};

/**
 * Asks the system to run this program's frames before what else runs on this computer, where that is allowed, and says what
 * came of it. Whoever gave this program a priority on purpose keeps it.
 */
export const goFirst = (
  system: { readonly given: () => number; readonly raise: () => void } = thisSystem,
): "raised" | "as it was given" | "not allowed" => {
  if (system.given() !== 0) return "as it was given";
  try {
    system.raise();
    return "raised";
  } catch {
    return "not allowed";
  }
};

const thisSystem = { given: () => getPriority(), raise: () => setPriority(constants.priority.PRIORITY_HIGH) };

import { spawnSync } from "node:child_process";
import { randomBytes, randomInt } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import type { TerminalRun } from "../../kit/terminal.ts";
import type { interfaceAt } from "../../mishaps/at-work.ts";

/** A run on a real line, with somebody at the keys. */
export interface AtWork {
  readonly run: TerminalRun;
  readonly cable: ReturnType<typeof interfaceAt>;
  /** Where the journal is; a disk of its own. */
  readonly disk: string;
}

const LOST = /LINE IS LOST/;
const BACK = /LINE IS BACK/;
const ON_ITS_WAY_MS = 1500;
/** Exit codes: stopped by a person or a signal; the world was in the way. */
const [STOPPED, WORLD] = [4, 3];
/** A second signal that comes when the run is over and on disk, or a closed terminal, ends the program before its sheet; a terminal tells no code then. */
const LATER_SIGNAL = 0;

/** After the line was lost and is back: agreed, and stopped in the movement that follows. */
const backAndStopped = async ({ run }: AtWork): Promise<readonly number[]> => {
  await run.until(BACK);
  run.type("c");
  await wait(randomInt(ON_ITS_WAY_MS));
  return stopped({ run });
};

const stopped = async ({ run }: Pick<AtWork, "run">): Promise<readonly number[]> => {
  run.type("s");
  return [STOPPED];
};

/** What a bad day does to a run at work; each ends the run, and says with which exit codes it may have ended. */
export const MISHAPS = {
  "cable out and in": async (at: AtWork) => {
    at.cable.pullOut();
    await at.run.until(LOST);
    await wait(randomInt(ON_ITS_WAY_MS));
    at.cable.plugIn();
    return backAndStopped(at);
  },
  "interface hangs, unplugged and plugged in": async (at: AtWork) => {
    at.cable.stopReading();
    await at.run.until(LOST);
    at.cable.pullOut();
    at.cable.plugIn();
    return backAndStopped(at);
  },
  "garbage from the interface": async (at: AtWork) => {
    for (let left = 20; left > 0; left--) {
      at.cable.pour(noise());
      await wait(randomInt(100));
    }
    return stopped(at);
  },
  "endless bytes from the interface": async (at: AtWork) => {
    // Ten times what the serial line itself could carry.
    const endless = new Uint8Array(2500).fill(0x7e);
    const pouring = setInterval(() => at.cable.pour(endless), 10);
    await wait(2 * ON_ITS_WAY_MS);
    const ends = await stopped(at);
    await wait(ON_ITS_WAY_MS);
    clearInterval(pouring);
    return ends;
  },
  "signals in a burst": async ({ run }: AtWork) => {
    for (let left = 8; left > 0; left--) {
      const signal = (["SIGTERM", "SIGINT", "SIGHUP"] as const)[randomInt(3)];
      try {
        process.kill(run.pid, signal);
      } catch {
        // It has ended meanwhile.
      }
      await wait(randomInt(30));
    }
    return [STOPPED, LATER_SIGNAL];
  },
  "disk full": async ({ run, disk }: AtWork) => {
    fill(disk, randomInt(40));
    const pressing = setInterval(() => run.type(" "), 20);
    await run.until(/disk[\s\S]*full/).catch(() => {});
    clearInterval(pressing);
    return [WORLD];
  },
  "clock set, again and again": async (at: AtWork) => {
    for (let left = 5; left > 0; left--) {
      process.kill(at.run.pid, "SIGUSR2");
      await wait(randomInt(300));
      at.run.type(" ");
    }
    return stopped(at);
  },
} as const;

/** What happens to a cable and what hangs on it. */
export const OF_THE_LINE: readonly string[] = [
  "cable out and in",
  "interface hangs, unplugged and plugged in",
  "garbage from the interface",
  "endless bytes from the interface",
] satisfies readonly (keyof typeof MISHAPS)[];

/** Loaded before the program: whenever it is told to, its clock jumps by up to a year, forward or back. */
const JUMPS = `
  let off = 0;
  const now = Date.now;
  const Own = Date;
  globalThis.Date = class extends Own {
    constructor(...args) { args.length === 0 ? super(now() + off) : super(...args); }
    static now() { return now() + off; }
  };
  process.on("SIGUSR2", () => { off += Math.round((Math.random() - 0.5) * 2 * 31536e6); });
`;
export const CLOCK_JUMPS = `data:text/javascript,${encodeURIComponent(JUMPS)}`;

/** Fills a disk until nothing more fits but so many kilobytes. */
const fill = (disk: string, left: number): void => {
  spawnSync("dd", ["if=/dev/zero", `of=${join(disk, "filler")}`, "bs=1k"], { stdio: "ignore" });
  const filler = readFileSync(join(disk, "filler"));
  writeFileSync(join(disk, "filler"), filler.subarray(0, Math.max(0, filler.length - left * 1024)));
};

const noise = (): Uint8Array => randomBytes(1 + randomInt(4096));

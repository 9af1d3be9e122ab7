import { mkdirSync } from "node:fs";
import { homedir } from "node:os";
import { dirname, join } from "node:path";
import { pino } from "pino";
import type { Log } from "../../run/ports.ts";

/**
 * Writes diagnostics into a file private to the user; where that cannot be written there are none, and the work goes on.
 */
export const fileLog = (): Log => {
  const file = usualPlace(process.env);
  try {
    mkdirSync(dirname(file), { recursive: true, mode: 0o700 });
    const destination = pino.destination({ dest: file, append: true, mode: 0o600, sync: true });
    // A disk that fills up in the middle is no reason to end a run: an error that nobody hears would.
    destination.on("error", () => {});
    const log = pino({}, destination);
    return { note: (what, details) => log.info({ ...details }, what) };
  } catch {
    return silentLog;
  }
};

export const silentLog: Log = { note: () => {} };

const usualPlace = (env: NodeJS.ProcessEnv): string =>
  join(env["XDG_STATE_HOME"] || join(homedir(), ".local", "state"), "limber", "limber.log");

import { accessSync, closeSync, constants, existsSync, mkdirSync, openSync } from "node:fs";
import { dirname } from "node:path";
import { journalError } from "./trouble.ts";

/**
 * Creates the file, and the folders above it, for this user only. A file that is there is only asked whether it may be
 * used. Throws JournalError or the system's error.
 */
export const createPrivate = (file: string, existing: "welcome" | "refused"): void => {
  if (!existsSync(dirname(file))) mkdirSync(dirname(file), { recursive: true, mode: 0o700 });
  // Not opened if it is there: closing it again would drop the locks that SQLite holds elsewhere in this process.
  if (existing === "welcome" && existsSync(file)) mustBeUsable(file);
  else closeSync(openSync(file, existing === "welcome" ? "a" : "wx", 0o600));
};

const mustBeUsable = (file: string): void => {
  accessSync(file, constants.R_OK);
  if (!isWritable(file)) throw journalError("read-only", file);
};

const isWritable = (file: string): boolean => {
  try {
    accessSync(file, constants.W_OK);
    return true;
  } catch {
    return false;
  }
};

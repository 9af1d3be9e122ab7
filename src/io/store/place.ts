import { accessSync, closeSync, constants, existsSync, mkdirSync, openSync } from "node:fs";
import { homedir } from "node:os";
import { dirname, isAbsolute, join } from "node:path";
import { journalError } from "./trouble.ts";

/** Where the journal lies when nobody says otherwise (XDG Base Directory Specification: a relative XDG_DATA_HOME is ignored). */
export const journalPlace = (env: NodeJS.ProcessEnv): string => join(dataFolder(env), "journal.db");

/** Limber's own folder among the user's data. */
export const dataFolder = (env: NodeJS.ProcessEnv): string => join(dataHome(env), "limber");

const dataHome = (env: NodeJS.ProcessEnv): string => {
  const told = env["XDG_DATA_HOME"];
  return told && isAbsolute(told) ? told : join(env["HOME"] || homedir(), ".local", "share");
};

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

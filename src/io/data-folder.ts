import { homedir } from "node:os";
import { isAbsolute, join } from "node:path";

/** Where the journal lies when nobody says otherwise. */
export const journalPlace = (env: NodeJS.ProcessEnv): string => join(dataFolder(env), "journal.db");

/** Where imported profiles are kept for the whole shop: beside the journal. */
export const libraryFolder = (env: NodeJS.ProcessEnv): string => join(dataFolder(env), "profiles");

/** Limber's own folder among the user's data (XDG Base Directory Specification: a relative XDG_DATA_HOME is ignored). */
const dataFolder = (env: NodeJS.ProcessEnv): string => {
  const told = env["XDG_DATA_HOME"];
  const home = told && isAbsolute(told) ? told : join(env["HOME"] || homedir(), ".local", "share");
  return join(home, "limber");
};

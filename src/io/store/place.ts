import { homedir } from "node:os";
import { isAbsolute, join } from "node:path";

/** Where the journal lies when nobody says otherwise (XDG Base Directory Specification: a relative XDG_DATA_HOME is ignored). */
export const journalPlace = (env: NodeJS.ProcessEnv): string => join(dataHome(env), "limber", "journal.db");

const dataHome = (env: NodeJS.ProcessEnv): string => {
  const told = env["XDG_DATA_HOME"];
  return told && isAbsolute(told) ? told : join(env["HOME"] || homedir(), ".local", "share");
};

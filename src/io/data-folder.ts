import { homedir } from "node:os";
import { join } from "node:path";
import { dataHome, systemOf } from "./systems.ts";

/** The file of the journal when nobody names another. */
export const journalPlace = (env: NodeJS.ProcessEnv): string => join(dataFolder(env), "journal.db");

/** The folder in which imported profiles are kept for the whole shop: beside the journal. */
export const libraryFolder = (env: NodeJS.ProcessEnv): string => join(dataFolder(env), "profiles");

/** Limber's own folder among the user's data. */
const dataFolder = (env: NodeJS.ProcessEnv): string =>
  join(dataHome(env, env["HOME"] || homedir(), systemOf(process.platform)), "limber");

/**
 * The file that says that a journal takes part in a share. Asked at every opening, so that a
 * bench by itself loads nothing for it.
 */
export const settingsFile = (journal: string): string => `${journal}-share.json`;

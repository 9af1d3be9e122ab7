import { homedir } from "node:os";
import { isAbsolute, join, posix, win32 } from "node:path";

/** What differs from one operating system to another, each as a function of its name, so that all three are tested on any. */
export type OperatingSystem = "linux" | "macos" | "windows";

/** The operating system by Node's name for it; other Unixes are treated like Linux. */
export const systemOf = (platform: NodeJS.Platform): OperatingSystem =>
  platform === "win32" ? "windows" : platform === "darwin" ? "macos" : "linux";

export const SYSTEM_NAMES: Readonly<Record<OperatingSystem, string>> = {
  linux: "Linux",
  macos: "macOS",
  windows: "Windows",
};

/** How a serial port of a USB interface is called there. */
export const PORT_EXAMPLES: Readonly<Record<OperatingSystem, string>> = {
  linux: "/dev/ttyUSB0",
  macos: "/dev/tty.usbserial-1",
  windows: "COM3",
};

const PORT_NAMES: Readonly<Record<OperatingSystem, RegExp>> = {
  linux: /^\/dev\//,
  macos: /^\/dev\//,
  windows: /^(\\\\\.\\)?COM\d+$/i,
};

/**
 * Whether a name is one that comes and goes with the cable: when it is missing, nothing is plugged
 * in; any other name is a misspelt one.
 */
export const isPortName = (path: string, system: OperatingSystem): boolean => PORT_NAMES[system].test(path);

/**
 * Where programs keep a user's data: the XDG Base Directory Specification on Linux (a relative XDG_DATA_HOME is ignored),
 * `Library/Application Support` on macOS, LOCALAPPDATA on Windows. XDG_DATA_HOME counts everywhere, since whoever sets it means it.
 */
export const dataHome = (env: NodeJS.ProcessEnv, home: string, system: OperatingSystem): string => {
  const told = env["XDG_DATA_HOME"];
  if (told && isAbsolute(told)) return told;
  switch (system) {
    case "linux":
      return posix.join(home, ".local", "share");
    case "macos":
      return posix.join(home, "Library", "Application Support");
    case "windows":
      return env["LOCALAPPDATA"] || win32.join(home, "AppData", "Local");
  }
};

/** Whether a file's mode says who may read it: on Windows it does not. */
export const hasFileModes = (system: OperatingSystem): boolean => system !== "windows";

/**
 * Whether a program can be begun in a session of its own: apart from the terminal's keys and end. On Windows it would open a window.
 */
export const hasSessions = (system: OperatingSystem): boolean => system !== "windows";

/**
 * Whether the system's words for a port that may not be opened mean that another program has it open, as Windows says it.
 */
export const meansBusy = (words: string, system: OperatingSystem): boolean =>
  system === "windows" && /access (is )?denied/i.test(words);

/** What is missing when the ports cannot be listed, by the system's own error; undefined where that is not known. */
export const cannotListPorts = (code: string | undefined, system: OperatingSystem): string | undefined =>
  code === "ENOENT" && system === "linux"
    ? `the program udevadm (package udev) is not installed; the port still works when named, such as serial:${PORT_EXAMPLES.linux}`
    : undefined;

/** The program that shows a file in the user's browser, with what it is told; never a shell. */
export const openerOn = (system: OperatingSystem, file: string): readonly [string, ...string[]] => {
  switch (system) {
    case "linux":
      return ["xdg-open", file];
    case "macos":
      return ["open", file];
    case "windows":
      return ["explorer.exe", file];
  }
};

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

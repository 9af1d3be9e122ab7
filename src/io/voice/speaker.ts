import { accessSync, constants, statSync } from "node:fs";
import { delimiter, join } from "node:path";

/** A speech program of the system, and how it is told what to say: never through a shell, never where text could be an option. */
export interface Speaker {
  readonly path: string;
  readonly args: (text: string) => readonly string[];
  /** Whether it reads the text from its standard input. */
  readonly stdin: boolean;
  /** What has to be run to cut it off, when ending the program is not enough. */
  readonly hush: readonly string[] | undefined;
}

interface KnownSpeaker extends Omit<Speaker, "path"> {
  readonly name: string;
}

/** In the order in which they are looked for. Their own manual pages (memory). */
const KNOWN: readonly KnownSpeaker[] = [
  { name: "espeak-ng", args: () => ["--stdin"], stdin: true, hush: undefined },
  { name: "spd-say", args: (text) => ["--wait", "--", text], stdin: false, hush: ["--cancel"] },
  { name: "say", args: () => ["-f", "-"], stdin: true, hush: undefined },
];

/** The first speech program on the path, or undefined when there is none. */
export const findSpeaker = (path: string): Speaker | undefined => {
  for (const { name, ...how } of KNOWN) {
    const place = path
      .split(delimiter)
      .map((folder) => join(folder || ".", name))
      .find(canRun);
    if (place) return { path: place, ...how };
  }
  return undefined;
};

const canRun = (file: string): boolean => {
  try {
    accessSync(file, constants.X_OK);
    return statSync(file).isFile();
  } catch {
    return false;
  }
};

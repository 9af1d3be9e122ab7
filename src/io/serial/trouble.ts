import { lstat, readFile, stat } from "node:fs/promises";
import { LineError, type LineTrouble } from "../../run/ports.ts";
import { isPortName, meansBusy, type OperatingSystem, PORT_EXAMPLES, systemOf } from "../systems.ts";

/** What the system says when a port cannot be opened, in the words of the serial port library (version 13). */
const CAUSES: readonly (readonly [says: RegExp, cause: "missing" | LineTrouble])[] = [
  [/cannot lock port|resource busy/i, "busy"],
  [/permission denied/i, "no-permission"],
  [/no such file|file not found/i, "missing"],
  [/no such device|input\/output error/i, "unplugged"],
  [/inappropriate ioctl|is a directory/i, "not-a-port"],
];

/** Why a port could not be opened, in words a technician can act on. Never rejects. */
export const openTrouble = async (
  path: string,
  cause: Error,
  system: OperatingSystem = systemOf(process.platform),
): Promise<LineError> => {
  const found = meansBusy(cause.message, system)
    ? "busy"
    : (CAUSES.find(([says]) => says.test(cause.message))?.[1] ?? "refused");
  const code = found === "missing" ? await missing(path, system) : found;
  return new LineError(code, await WORDS[code](path, cause), { cause });
};

/** The name of a port comes and goes with the cable, and so does what a link of the technician's own leads to. */
const missing = async (path: string, system: OperatingSystem): Promise<LineTrouble> => {
  const isLink = await lstat(path).then(
    () => true,
    () => false,
  );
  return isLink || isPortName(path, system) ? "unplugged" : "not-a-port";
};

const refused = (path: string, cause: Error) => `${path} cannot be opened: ${cause.message}`;

const WORDS: Readonly<Record<LineTrouble, (path: string, cause: Error) => string | Promise<string>>> = {
  unplugged: (path) => `nothing is plugged in as ${path}: cable out, or the interface has another name now`,
  busy: (path) => `another program has ${path} open: close it there first`,
  "not-a-port": (path) => `${path} is not a serial port; one looks like ${PORT_EXAMPLES[systemOf(process.platform)]}`,
  "no-permission": (path) => forbidden(path),
  stalled: refused,
  unreachable: refused,
  refused,
};

const forbidden = async (path: string): Promise<string> => {
  const start = `you may not use ${path}`;
  const file = await stat(path).catch(() => undefined);
  if (file === undefined) return `${start}; ask whoever looks after this computer`;
  const group = await groupName(file.gid);
  // Advice to join a group that may not use it either, or the administrators', would be bad advice.
  const groupMayUseIt = (file.mode & 0o060) === 0o060 && file.gid !== 0;
  return groupMayUseIt
    ? `${start}: only the group ${group} may. Have yourself added (sudo usermod -aG ${group} YOUR-NAME) and log in again`
    : `${start}: it belongs to the group ${group} and is closed to others; ask whoever looks after this computer`;
};

/** The name in /etc/group, or the number where that file does not know it. */
const groupName = async (gid: number): Promise<string> => {
  const groups = await readFile("/etc/group", "utf8").catch(() => "");
  const line = groups.split("\n").find((entry) => entry.split(":")[2] === String(gid));
  return line?.split(":")[0] ?? String(gid);
};

import { lstat, readFile, stat } from "node:fs/promises";
import { SerialPort } from "serialport";
import { LineError, type LineTrouble } from "../../run/ports.ts";
import type { LineChannel } from "../../run/shell/reopened-line.ts";
import { isPortName, meansBusy, type OperatingSystem, PORT_EXAMPLES, systemOf } from "../systems.ts";

/** The part of an open port that is spoken through. */
export type Wires = Pick<SerialPort, "write" | "set" | "drain">;

/** How frames are said through a port. */
export interface PortSpeech {
  /** First of all. Rejects where this port cannot speak so. */
  greet(wires: Wires): Promise<void>;
  /** Resolves when the system has taken the frame. Rejects when the port is gone; where that is all, its own error may tell it instead. */
  say(wires: Wires, levels: Uint8Array): Promise<void>;
}

/** What an open port tells. */
export interface PortEars {
  received(bytes: Uint8Array): void;
  /** At most once, and not after `close`. */
  lost(error: LineError): void;
}

/**
 * How many looks, a second in all, may see no byte taken before the interface hangs. Looked at often rather than timed once, because a
 * computer that was asleep or swamped for a second finds the timer over before it finds the answer.
 */
const LOOKS = 10;
const LOOK_EVERY_MS = 100;
const LAST_WRITE_MS = 500;
const GIVE_BACK_MS = 500;

/** USB-DMX interfaces set their own pace and ignore this one; where it counts, it still carries 40 full universes a second. */
const LINE = { baudRate: 250_000, dataBits: 8, stopBits: 2, parity: "none" } as const;

/** Opens a serial port. Closing takes a second at most, whatever the other end does. Rejects with LineError. */
export const openPort = async (path: string, speech: PortSpeech, ears: PortEars): Promise<LineChannel> => {
  const port = new SerialPort({ path, ...LINE, autoOpen: false });
  let over = false;
  let writing: Promise<void> | undefined;
  let released: Promise<void> | undefined;
  const release = () => {
    released ??= withinTime(GIVE_BACK_MS, givenBack(port, writing === undefined ? "keep" : "discard"));
    return released;
  };
  const lose = (error: LineError) => {
    if (over) return;
    over = true;
    void release();
    ears.lost(error);
  };
  // All three before the first byte: an error nobody hears ends the process, and an idle port that lost its cable is
  // noticed only while somebody listens for data.
  port.on("error", (cause) => lose(gone(path, cause)));
  port.on("close", (cause: unknown) => lose(gone(path, cause)));
  port.on("data", ears.received);
  await opened(port);
  await speech.greet(port).catch(async (cause: unknown) => {
    over = true;
    await release();
    throw cause;
  });
  return {
    send: (levels) => {
      if (over || writing !== undefined) return "dropped";
      writing = watched(speech.say(port, levels), () => lose(stalled(path)))
        .catch((cause: unknown) => lose(gone(path, cause)))
        .then(() => {
          writing = undefined;
        });
      return "sent";
    },
    close: async () => {
      over = true;
      if (writing !== undefined) await withinTime(LAST_WRITE_MS, writing);
      await release();
    },
  };
};

const opened = (port: SerialPort) =>
  new Promise<void>((resolve, reject) => {
    port.open((cause) => {
      if (cause) openTrouble(port.path, cause).then(reject, reject);
      else resolve();
    });
  });

const watched = (taken: Promise<void>, tooLong: () => void) => {
  let looks = 0;
  const watch = setInterval(() => {
    looks += 1;
    if (looks < LOOKS) return;
    clearInterval(watch);
    tooLong();
  }, LOOK_EVERY_MS);
  return taken.finally(() => clearInterval(watch));
};

/** Closing waits in the system until all bytes have left; a hanging interface never takes them, so they are thrown away first. */
const givenBack = async (port: SerialPort, unsent: "keep" | "discard") => {
  // A port that lost its cable closes by itself; of its error, and of a first "close", one hears before that is done.
  while (port.closing) await new Promise<void>((resolve) => port.once("close", () => resolve()));
  if (!port.isOpen) return;
  if (unsent === "discard") await new Promise<void>((resolve) => port.flush(() => resolve()));
  await new Promise<void>((resolve) => port.close(() => resolve()));
};

const withinTime = (milliseconds: number, work: Promise<void>) => {
  let timer: NodeJS.Timeout | undefined;
  const enough = new Promise<void>((resolve) => {
    timer = setTimeout(resolve, milliseconds);
  });
  return Promise.race([work, enough]).finally(() => clearTimeout(timer));
};

const gone = (path: string, cause: unknown) =>
  new LineError("unplugged", `the interface on ${path} is gone: cable out, or switched off`, { cause });
const stalled = (path: string) =>
  new LineError("stalled", `the interface on ${path} has taken no data for a second: unplug it and plug it in again`);

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

import { homedir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { openTrouble } from "../../src/io/serial/port.ts";
import {
  cannotListPorts,
  dataHome,
  hasFileModes,
  hasSessions,
  isPortName,
  journalPlace,
  meansBusy,
  systemOf,
} from "../../src/io/systems.ts";

/** From the systems' own manuals, as far as memory goes; macOS and Windows were never tried. */
test.each([
  { platform: "linux", system: "linux" },
  { platform: "darwin", system: "macos" },
  { platform: "win32", system: "windows" },
  { platform: "freebsd", system: "linux" },
] as const)("$platform is treated as $system", ({ platform, system }) => {
  expect(systemOf(platform)).toBe(system);
});

test.each([
  { system: "linux", path: "/dev/ttyUSB0", is: true },
  { system: "linux", path: "COM3", is: false },
  { system: "macos", path: "/dev/tty.usbserial-1", is: true },
  { system: "macos", path: "usbserial", is: false },
  { system: "windows", path: "COM3", is: true },
  { system: "windows", path: "\\\\.\\COM12", is: true },
  { system: "windows", path: "COMPORT", is: false },
  { system: "windows", path: "/dev/ttyUSB0", is: false },
] as const)("on $system $path is the name of a port: $is", ({ system, path, is }) => {
  expect(isPortName(path, system)).toBe(is);
});

test.each([
  { system: "linux", is: true },
  { system: "macos", is: true },
  { system: "windows", is: false },
] as const)("on $system a program can be begun in a session of its own: $is", ({ system, is }) => {
  expect(hasSessions(system)).toBe(is);
});

/** XDG Base Directory Specification; the other two by common practice. */
test.each([
  { system: "linux", env: {}, place: "/home/km/.local/share" },
  { system: "linux", env: { XDG_DATA_HOME: "/data" }, place: "/data" },
  { system: "linux", env: { XDG_DATA_HOME: "data" }, place: "/home/km/.local/share" },
  { system: "macos", env: {}, place: "/home/km/Library/Application Support" },
  { system: "macos", env: { XDG_DATA_HOME: "/data" }, place: "/data" },
  { system: "windows", env: { LOCALAPPDATA: "C:\\Users\\km\\AppData\\Local" }, place: "C:\\Users\\km\\AppData\\Local" },
  { system: "windows", env: {}, place: "\\home\\km\\AppData\\Local" },
] as const)("on $system with $env a user's data lie in $place", ({ system, env, place }) => {
  expect(dataHome(env, "/home/km", system)).toBe(place);
});

test.each([
  { system: "linux", says: "Permission denied, cannot open /dev/ttyUSB0", code: "no-permission" },
  { system: "linux", says: "Error: Resource temporarily unavailable Cannot lock port", code: "busy" },
  { system: "macos", says: "Error Resource busy, cannot open /dev/tty.usbserial-1", code: "busy" },
  { system: "macos", says: "No such file or directory, cannot open /dev/tty.usbserial-1", code: "unplugged" },
  { system: "windows", says: "Opening COM3: Access denied", code: "busy" },
  { system: "windows", says: "Opening COM3: File not found", code: "unplugged" },
] as const)('on $system "$says" is $code', async ({ system, says, code }) => {
  const path = system === "windows" ? "COM3" : "/dev/tty-of-nobody";
  expect(await openTrouble(path, new Error(says), system)).toMatchObject({ code });
});

test("only Windows says that access is denied when another program has the port open", () => {
  expect(meansBusy("Access is denied", "windows")).toBe(true);
  expect(meansBusy("Access is denied", "macos")).toBe(false);
});

test("who may read a file stands in its mode, but not on Windows", () => {
  expect([hasFileModes("linux"), hasFileModes("macos"), hasFileModes("windows")]).toEqual([true, true, false]);
});

test("ports cannot be listed on Linux without udevadm, and that is said", () => {
  expect(cannotListPorts("ENOENT", "linux")).toContain("udevadm");
  expect(cannotListPorts("ENOENT", "windows")).toBeUndefined();
});

/** XDG Base Directory Specification 0.8: default, and "if an implementation encounters a relative path ... ignore it". From memory. */
test.each([
  { env: { XDG_DATA_HOME: "/data/ab", HOME: "/home/ab" }, place: "/data/ab/limber/journal.db", because: "it was told" },
  { env: { HOME: "/home/ab" }, place: "/home/ab/.local/share/limber/journal.db", because: "that is the default" },
  {
    env: { XDG_DATA_HOME: "", HOME: "/home/ab" },
    place: "/home/ab/.local/share/limber/journal.db",
    because: "empty is not set",
  },
  {
    env: { XDG_DATA_HOME: "data", HOME: "/home/ab" },
    place: "/home/ab/.local/share/limber/journal.db",
    because: "relative counts for nothing",
  },
  { env: {}, place: join(homedir(), ".local/share/limber/journal.db"), because: "the system knows the home as well" },
])("the journal lies in $place, because $because", ({ env, place }) => {
  expect(journalPlace(env)).toBe(place);
});

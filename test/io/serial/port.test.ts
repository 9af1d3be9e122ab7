import { execFileSync } from "node:child_process";
import { chmodSync, chownSync, mkdtempSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, expect, test } from "vitest";
import { framedLine } from "../../../src/io/serial/framed-line.ts";
import { openTrouble } from "../../../src/io/serial/port.ts";
import type { LineError } from "../../../src/run/ports.ts";

const folder = mkdtempSync(join(tmpdir(), "trouble-"));
chmodSync(folder, 0o755);
const file = (name: string, mode: number) => {
  const path = join(folder, name);
  writeFileSync(path, "");
  chmodSync(path, mode);
  return path;
};
const link = (name: string, to: string) => {
  const path = join(folder, name);
  symlinkSync(to, path);
  return path;
};
const troubleOf = (path: string): Promise<LineError> =>
  framedLine(path)
    .open(() => {})
    .then(
      () => expect.unreachable("it opened"),
      (error) => error,
    );

const isAdministrator = process.geteuid?.() === 0;
/** The administrator may open everything, so stops being one for a while. Any number but 0 does. */
const asNobody = async <T>(work: () => Promise<T>): Promise<T> => {
  if (isAdministrator) process.seteuid?.(65_534);
  return work().finally(() => isAdministrator && process.seteuid?.(0));
};
afterEach(() => {
  if (isAdministrator) process.seteuid?.(0);
});

test.each([
  { because: "a plain file", path: file("plain", 0o666), code: "not-a-port", says: "is not a serial port" },
  { because: "a folder", path: folder, code: "not-a-port", says: "is not a serial port" },
  { because: "the system's waste bin", path: "/dev/null", code: "not-a-port", says: "is not a serial port" },
  { because: "a name that never was a port", path: join(folder, "typo"), code: "not-a-port", says: "/dev/ttyUSB0" },
  { because: "a port that is not there", path: "/dev/ttyUSB_none", code: "unplugged", says: "nothing is plugged in" },
  { because: "a link to such a port", path: link("dmx", "/dev/ttyUSB_none"), code: "unplugged", says: "cable out" },
])("$because is $code", async ({ path, code, says }) => {
  const error = await troubleOf(path);
  expect(error).toMatchObject({ name: "LineError", code });
  expect(error.message).toContain(says);
  expect(error.message).toContain(path);
  expect(error.cause).toBeInstanceOf(Error);
});

test.runIf(process.platform === "linux")(
  "without permission the words name the group, and say nothing of joining it where that would not help",
  async () => {
    const path = file("closed", 0o000);
    const group = execFileSync("stat", ["-c", "%G", path], { encoding: "utf8" }).trim();
    const error = await asNobody(() => troubleOf(path));
    expect(error.code).toBe("no-permission");
    expect(error.message).toContain(`the group ${group} `);
    expect(error.message).not.toContain("usermod");
  },
);

test.skipIf(!isAdministrator)("without permission the words say which group to join", async () => {
  const path = file("for-a-group", 0o660);
  chownSync(path, 0, 20);
  // Named by coreutils, not by us.
  const group = execFileSync("stat", ["-c", "%G", path], { encoding: "utf8" }).trim();
  const error = await asNobody(() => troubleOf(path));
  expect(error.code).toBe("no-permission");
  expect(error.message).toContain(`usermod -aG ${group} `);
});

test.skipIf(!isAdministrator)("a group without a name is called by its number", async () => {
  const path = file("no-name", 0o660);
  chownSync(path, 0, 54_321);
  expect((await asNobody(() => troubleOf(path))).message).toContain("usermod -aG 54321 ");
});

test.each([
  { says: "Error: Device or resource busy, cannot open /dev/x", code: "busy" },
  { says: "Error: Input/output error setting custom baud rate of 250000", code: "unplugged" },
  { says: "Error: No such device or address, cannot open /dev/x", code: "unplugged" },
  { says: "Opening COM9: File not found", code: "not-a-port" },
  { says: "something nobody thought of", code: "refused" },
])('"$says" is $code', async ({ says, code }) => {
  // The library's wording with the texts of POSIX strerror; the last but one from memory of another system.
  expect(await openTrouble("x", new Error(says))).toMatchObject({ code });
});

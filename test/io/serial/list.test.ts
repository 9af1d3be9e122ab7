import { chmodSync, mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, expect, test } from "vitest";
import { listPorts } from "../../../src/io/serial/devices.ts";

/** The system's own lister, of which the library knows only the name. Its form: udevadm info -e, from memory. */
const withLister = (script: string | undefined, mode = 0o755) => {
  const folder = mkdtempSync(join(tmpdir(), "list-"));
  if (script !== undefined) {
    writeFileSync(join(folder, "udevadm"), `#!/bin/sh\n${script}\n`);
    chmodSync(join(folder, "udevadm"), mode);
  }
  process.env["PATH"] = folder;
};
const path = process.env["PATH"];
afterEach(() => {
  process.env["PATH"] = path;
});

test.runIf(process.platform === "linux")("where the lister is missing, that is what is said", async () => {
  withLister(undefined);
  expect(await listPorts()).toEqual({ kind: "cannot-list", missing: expect.stringContaining("udevadm") });
});

test.runIf(process.platform === "linux")("where the lister cannot be run, the reason is said", async () => {
  withLister("", 0o644);
  expect(await listPorts()).toEqual({ kind: "cannot-list", missing: expect.stringContaining("EACCES") });
});

test.runIf(process.platform === "linux")("ports on USB come first, and other devices do not come at all", async () => {
  withLister(`echo "P: /devices/platform/serial8250/tty/ttyS0
N: ttyS0
E: DEVNAME=/dev/ttyS0

P: /devices/virtual/mem/null
N: null
E: DEVNAME=/dev/null

P: /devices/pci0000:00/usb1/1-1/ttyUSB0
N: ttyUSB0
E: DEVNAME=/dev/ttyUSB0
E: ID_VENDOR_ID=0403
E: ID_SERIAL_SHORT=A1B2C3
"`);
  expect(await listPorts()).toEqual({
    kind: "ports",
    ports: [
      { path: "/dev/ttyUSB0", serialNumber: "A1B2C3", usb: "usb" },
      { path: "/dev/ttyS0", serialNumber: undefined, usb: "built-in" },
    ],
  });
});

import { spawn } from "node:child_process";
import { once } from "node:events";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { ending, interfaceAt, SLOW, workplace } from "./at-work.ts";

describe("what keeps a run from beginning: nothing moves, it is said what to do, exit code 3", () => {
  test("a port that is gone when it is to be opened", { timeout: SLOW }, async ({ onTestFinished }) => {
    const place = workplace(onTestFinished);
    const run = place.start([`serial:${join("/dev", "limber-was-here")}`]);
    expect(await run.ended).toBe(3);
    expect(run.output()).toContain("nothing is plugged in as /dev/limber-was-here");
    expect(run.output()).not.toContain("BEFORE ANYTHING MOVES");
    expect(ending(await place.record())).toBe("failed");
  });

  test("a port that another program has open", { timeout: SLOW }, async ({ onTestFinished }) => {
    const place = workplace(onTestFinished);
    const cable = interfaceAt(place.folder, onTestFinished);
    const script = `import { SerialPort } from "serialport";
      const port = new SerialPort({ path: process.argv[1], baudRate: 250000 });
      port.on("data", () => {});
      port.on("open", () => console.log("open"));`;
    const other = spawn(process.execPath, ["--input-type=module", "--eval", script, cable.path]);
    onTestFinished(() => void other.kill());
    await once(other.stdout, "data");
    const run = place.start([cable.output]);
    expect(await run.ended).toBe(3);
    expect(run.output().replaceAll(/\s+/g, " ")).toContain(`another program has ${cable.path} open: close it there`);
    expect(cable.packets).toEqual([]);
    expect(ending(await place.record())).toBe("failed");
  });
});

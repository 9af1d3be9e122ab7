import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { describe, expect, test } from "vitest";
import { smallDisk } from "../io/store/small-disk.ts";
import { noSmallDisk } from "../io/store/small-mount.ts";
import { ending, farthest, interfaceAt, SLOW, workplace } from "./at-work.ts";

describe.concurrent("whatever ends a run at full movement, on a real cable it goes dark and no axis is told to go anywhere", () => {
  test.for([
    { name: "SIGTERM", times: 1, because: "asked to end" },
    { name: "SIGINT", times: 2, because: "Ctrl-C from another program, and once more in haste" },
    { name: "SIGHUP", times: 1, because: "told that the terminal closes" },
  ])(
    "$name ($because): stopped, told on the job sheet, kept, exit code 4",
    { timeout: SLOW },
    async ({ name, times }, { onTestFinished }) => {
      const place = workplace(onTestFinished);
      const cable = interfaceAt(place.folder, onTestFinished);
      const run = await place.atWork([cable.output]);
      const from = cable.packets.length;
      for (let left = times; left > 0; left -= 1) process.kill(run.pid, name);
      expect(await run.ended).toBe(4);
      await cable.held();
      // A sweep of 540 degrees in 30 s goes 0.45 degrees a packet; one packet may be lost on the way.
      expect(farthest(cable.packets.slice(from))).toBeLessThan(2);
      expect(run.output()).toContain("stopped before the end");
      expect(run.buffer()).toBe("normal");
      const record = await place.record();
      expect(ending(record)).toBe("stopped");
      expect(record.at(-2)).toMatchObject({ kind: "course-changed", what: "stopped", detail: name });
    },
  );

  test(
    "the terminal is closed: nobody can be told any more, but the record ends",
    async ({ onTestFinished }) => {
      const place = workplace(onTestFinished);
      const cable = interfaceAt(place.folder, onTestFinished);
      const run = await place.atWork([cable.output]);
      run.close();
      await run.ended;
      await cable.held();
      expect(ending(await place.record())).toBe("stopped");
    },
    SLOW,
  );

  test(
    "a mistake of ours that nobody caught: dark, said to be ours, in the log, exit code 1; what was kept stays",
    async ({ onTestFinished }) => {
      const place = workplace(onTestFinished);
      const cable = interfaceAt(place.folder, onTestFinished);
      const sin = 'process.on("SIGUSR2", () => { throw new Error("Bug: on purpose"); });';
      const run = await place.atWork([cable.output], {
        NODE_OPTIONS: `--import data:text/javascript,${encodeURIComponent(sin)}`,
      });
      process.kill(run.pid, "SIGUSR2");
      expect(await run.ended).toBe(1);
      await cable.held();
      expect(run.output()).toContain("This is a mistake in Limber, not in what you did: Bug: on purpose");
      expect(run.buffer()).toBe("normal");
      expect(ending(await place.record())).toBe("step-started");
      const log = join(place.folder, ".local/state/limber/limber.log");
      expect(readFileSync(log, "utf8")).toContain("Bug: on purpose");
      expect(statSync(log).mode & 0o077).toBe(0);
    },
    SLOW,
  );

  test(
    "killed outright at full movement: dark, every axis held; all that was kept is there",
    async ({ onTestFinished }) => {
      const place = workplace(onTestFinished);
      const cable = interfaceAt(place.folder, onTestFinished);
      const run = await place.atWork([cable.output]);
      const from = cable.packets.length;
      process.kill(run.pid, "SIGKILL");
      await cable.held();
      expect(farthest(cable.packets.slice(from))).toBeLessThan(2);
      expect(ending(await place.record())).toBe("step-started");
    },
    SLOW,
  );

  test(
    "a mistake of ours in the process that sends the frames: dark, said to be ours, in the log, exit code 1",
    async ({ onTestFinished }) => {
      const place = workplace(onTestFinished);
      const cable = interfaceAt(place.folder, onTestFinished);
      const now = join(place.folder, "now");
      const sin = `import { existsSync } from "node:fs";
        if (process.send) setInterval(() => { if (existsSync(${JSON.stringify(now)})) throw new Error("Bug: on purpose"); }, 50);`;
      const run = await place.atWork([cable.output], {
        NODE_OPTIONS: `--import data:text/javascript,${encodeURIComponent(sin)}`,
      });
      writeFileSync(now, "");
      expect(await run.ended).toBe(1);
      await cable.held();
      expect(run.output()).toContain("This is a mistake in Limber, not in what you did: Bug: on purpose");
      const log = join(place.folder, ".local/state/limber/limber.log");
      expect(readFileSync(log, "utf8")).toContain("Bug: on purpose");
    },
    SLOW,
  );

  test(
    "the process that sends the frames is killed: nothing goes out any more, which is said, exit code 1",
    async ({ onTestFinished }) => {
      const place = workplace(onTestFinished);
      const cable = interfaceAt(place.folder, onTestFinished);
      const run = await place.atWork([cable.output]);
      const [sender] = readFileSync(`/proc/${run.pid}/task/${run.pid}/children`, "utf8").split(" ");
      process.kill(Number(sender), "SIGKILL");
      expect(await run.ended).toBe(1);
      expect(run.output()).toContain("the process that sends frames ended (SIGKILL)");
      expect(ending(await place.record())).toBe("step-started");
    },
    SLOW,
  );

  test(
    "the journal is locked by another program: the run ends with words, exit code 3; what was kept before is there",
    async ({ onTestFinished }) => {
      const place = workplace(onTestFinished);
      const cable = interfaceAt(place.folder, onTestFinished);
      const run = await place.atWork([cable.output]);
      const holder = spawn(process.execPath, ["test/io/store/holder.mjs", place.journal, "BEGIN IMMEDIATE"], {
        stdio: ["pipe", "pipe", "inherit"],
      });
      onTestFinished(() => void holder.kill());
      await once(holder.stdout, "data");
      run.type(" ");
      expect(await run.ended).toBe(3);
      await cable.held();
      expect(run.output()).toContain("in use by another");
      holder.stdin.end();
      await once(holder, "exit");
      expect(ending(await place.record())).toBe("step-started");
    },
    SLOW,
  );

  test(
    "the disk is full: the run ends with words, exit code 3; what was kept before is there",
    async ({ onTestFinished, skip }) => {
      const missing = noSmallDisk();
      skip(missing !== undefined, missing);
      const { folder } = smallDisk(600);
      const place = workplace(onTestFinished, folder);
      const cable = interfaceAt(place.folder, onTestFinished);
      const run = await place.atWork([cable.output]);
      const filler = spawn("dd", ["if=/dev/zero", `of=${join(folder, "filler")}`, "bs=1k"], { stdio: "ignore" });
      await once(filler, "exit");
      // Presses are kept one by one, until the pages that are there already are full too.
      const pressing = setInterval(() => run.type(" "), 20);
      const code = await run.ended.finally(() => clearInterval(pressing));
      expect(code).toBe(3);
      await cable.held();
      expect(run.output()).toMatch(/disk .*full/);
      expect(statSync(place.journal).size).toBeGreaterThan(0);
    },
    SLOW,
  );

  test.for([
    { leads: "/dev/null", because: "its folder cannot be made", at: "limber" },
    { leads: "/dev/full", because: "nothing more fits on its disk", at: "limber/limber.log" },
  ])(
    "the log cannot be written, as $because: the work goes on and ends as ever",
    { timeout: SLOW },
    async ({ leads, at }, { onTestFinished }) => {
      const place = workplace(onTestFinished);
      const state = join(place.folder, "state");
      mkdirSync(dirname(join(state, at)), { recursive: true });
      symlinkSync(leads, join(state, at));
      const cable = interfaceAt(place.folder, onTestFinished);
      const run = await place.atWork([cable.output], { XDG_STATE_HOME: state });
      cable.pullOut();
      await run.until("THE DMX LINE IS LOST");
      cable.plugIn();
      await run.until("THE DMX LINE IS BACK");
      await cable.held();
      run.type("s");
      expect(await run.ended).toBe(4);
      expect(ending(await place.record())).toBe("stopped");
    },
  );
});

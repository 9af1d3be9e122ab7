import { readdirSync, readFileSync, readlinkSync } from "node:fs";
import { afterAll, describe, expect, test } from "vitest";
import { program } from "../../kit/built.ts";
import { workplace } from "../../kit/limber.ts";
import { inTerminal } from "../../kit/terminal.ts";

const place = workplace();
afterAll(() => place.remove());

/** Sockets of a process that listen, by the kernel's own tables (Linux: state 0A in /proc/net/tcp). */
const listening = (pid: number): readonly string[] => {
  const own = readdirSync(`/proc/${pid}/fd`).flatMap((fd) => {
    try {
      return /^socket:\[(\d+)\]$/.exec(readlinkSync(`/proc/${pid}/fd/${fd}`))?.[1] ?? [];
    } catch {
      return [];
    }
  });
  return ["tcp", "tcp6"].flatMap((table) =>
    readFileSync(`/proc/${pid}/net/${table}`, "utf8")
      .split("\n")
      .map((row) => row.trim().split(/\s+/))
      .filter((row) => row[3] === "0A" && own.includes(row[9] ?? ""))
      .map((row) => row[1] ?? ""),
  );
};

describe.runIf(process.platform === "linux")("listening on the network", { timeout: 240_000 }, () => {
  test("nothing listens without --phone", async () => {
    const run = inTerminal([program(), "practice", "--person", "KM"], { env: { HOME: place.folder } });
    await run.until("BEFORE ANYTHING MOVES");
    expect(listening(run.pid)).toEqual([]);
    run.kill("SIGTERM");
    await run.ended;
  });

  test("with --phone one socket listens, at the one address, until somebody goes on without a phone", async () => {
    const run = inTerminal([program(), "practice", "--person", "KM", "--phone", "127.0.0.1"], {
      rows: 50,
      env: { HOME: place.folder },
    });
    await run.until("ENTER without a phone");
    // 127.0.0.1 as the kernel writes it, on a little-endian machine.
    expect(listening(run.pid)).toEqual([expect.stringMatching(/^0100007F:[0-9A-F]{4}$/)]);
    run.type("\r");
    await run.until("BEFORE ANYTHING MOVES");
    expect(listening(run.pid)).toEqual([]);
    run.kill("SIGTERM");
    await run.ended;
  });

  test("an address that is not this computer's is refused in words, with those that are", async () => {
    const run = inTerminal([program(), "practice", "--phone", "192.0.2.7"], { env: { HOME: place.folder } });
    expect(await run.ended).toBe(2);
    expect(run.output()).toContain("this computer has no address 192.0.2.7");
  });
});

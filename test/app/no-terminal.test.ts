import { spawn, spawnSync } from "node:child_process";
import { afterAll, expect, test } from "vitest";
import { program } from "../kit/built.ts";
import { SHORT_SEQUENCE, workplace } from "../kit/limber.ts";
import { ptyPair } from "../kit/pty.ts";

const place = workplace();
afterAll(() => place.remove());

const SEQUENCE = place.file("short.yaml", SHORT_SEQUENCE);
const PROFILE = place.file(
  "little.yaml",
  `profile: little
title: Little, 3 slots
slots: 3
power_up_s: 5
lamp: { kind: led, strike_s: 0, warm_s: 0, restrike_s: 0 }
functions:
  Pan: { slots: [1], from_deg: -270, to_deg: 270, full_travel_s: 0.7, lag_s: 0.1 }
  Tilt: { slots: [2], from_deg: -135, to_deg: 135, full_travel_s: 0.7, lag_s: 0.1 }
  Dimmer: { slots: [3], from_pct: 0, to_pct: 100, full_travel_s: 0.3 }
rest: { Dimmer: 0 }
`,
);

test("lines that are piped in at once belong to the questions in their order, also to those after a run", () => {
  const args = ["shift", "--person", "KM", "--output", "sim", "--sequence", SEQUENCE, "--watcher", "1", "--fast"];
  const { status, stdout } = spawnSync(process.execPath, [program(), ...args, "--journal", place.journal], {
    env: { PATH: process.env["PATH"] ?? "", HOME: place.folder },
    encoding: "utf8",
    input: ["S-1", PROFILE, "", "", "S-2", PROFILE, "", "", "?", "."].map((line) => `${line}\n`).join(""),
  });
  expect(stdout).toMatch(/2 fixtures: /);
  expect(status).toBe(0);
}, 60_000);

/** Runs a command with answers piped in, and reads the other end of its line. */
const pipedInto = async (path: string, args: readonly string[]) => {
  const child = spawn(process.execPath, [program(), ...args, "--output", `serial:${path}`], {
    env: { PATH: process.env["PATH"] ?? "", HOME: place.folder },
    stdio: ["pipe", "pipe", "pipe"],
  });
  let words = "";
  for (const stream of [child.stdout, child.stderr]) stream.on("data", (text: Buffer) => (words += text.toString()));
  child.stdin.on("error", () => {});
  child.stdin.end("c\r\n\r\n".repeat(50));
  const code = await new Promise<number | null>((resolve) => child.on("close", resolve));
  return { code, words };
};

/** What is piped in was written before anything was to be seen: it cannot say that an area is clear. */
test.each([
  { what: "a run", args: ["sweep", SEQUENCE, "--plain"] },
  { what: "a run on a drawn screen", args: ["sweep", SEQUENCE] },
  { what: "the verification of a profile", args: ["profile", "verify", PROFILE] },
])(
  "$what on a real line, without a terminal: refused in words, and not one byte goes out",
  async ({ args }) => {
    const bytes: Uint8Array[] = [];
    const pair = ptyPair((read) => bytes.push(read));
    const { code, words } = await pipedInto(pair.path, args);
    pair.pullOut();
    expect(code).toBe(2);
    expect(words.replaceAll(/\s+/g, " ")).toContain("no terminal to answer at");
    expect(words).not.toMatch(/\n\s+at .*:\d+:\d+/);
    expect(Buffer.concat(bytes)).toHaveLength(0);
  },
  120_000,
);

test("a rack on a real line: the same", async () => {
  const bytes: Uint8Array[] = [];
  const pair = ptyPair((read) => bytes.push(read));
  const rack = place.file(
    "rack.yaml",
    `rack: two
title: Two
lines: [{ universe: 1, output: "serial:${pair.path}" }]
fixtures:
  - { serial: S1, profile: spot-16bit, shelf: top, place: "1", universe: 1, address: 1 }
  - { serial: S2, profile: spot-16bit, shelf: top, place: "2", universe: 1, address: 31 }
`,
  );
  const { code, words } = await pipedRack(rack);
  pair.pullOut();
  expect({ code, words: words.replaceAll(/\s+/g, " ") }).toEqual({
    code: 2,
    words: expect.stringContaining("no terminal to answer at"),
  });
  expect(Buffer.concat(bytes)).toHaveLength(0);
}, 120_000);

const pipedRack = async (rack: string) => {
  const { code, out, err } = place.limber("rack", "run", rack, "--sequence", "quick", "--plain", "--person", "KM");
  return { code, words: `${out}${err}` };
};

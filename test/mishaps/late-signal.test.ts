import { spawnSync } from "node:child_process";
import { expect, onTestFinished, test } from "vitest";
import { program } from "../kit/built.ts";
import { SHORT_SEQUENCE, workplace } from "../kit/limber.ts";

const COMMANDS = {
  sweep: ["sweep", "--output", "sim", "--serial", "A-1", "--watcher", "1", "--fast"],
  "rack run": ["rack", "run", "demo", "--output", "sim", "--watcher", "1", "--fast"],
  start: ["start", "--watcher", "1"],
  practice: ["practice", "--rounds", "1", "--watcher", "1"],
} as const;

/** Loaded before the program: the moment it stops listening for signals, the run being over, so many more of them come. */
const lateSignals = (name: string, times: number) => `
  process.on("removeListener", function late(event) {
    if (event !== "${name}") return;
    process.off("removeListener", late);
    for (let left = ${times}; left > 0; left--) process.kill(process.pid, "${name}");
  });
`;

const endedAfter = (command: keyof typeof COMMANDS, name: string, times: number) => {
  const { folder, file, journal, remove } = workplace();
  onTestFinished(remove);
  const kept = command === "start" ? [] : ["--journal", journal];
  const args = [...COMMANDS[command], "--sequence", file("short.yaml", SHORT_SEQUENCE), ...kept, "--json"];
  const { status, signal, stdout } = spawnSync(process.execPath, [program(), ...args], {
    env: {
      PATH: process.env["PATH"],
      HOME: folder,
      NODE_OPTIONS: `--import data:text/javascript,${encodeURIComponent(lateSignals(name, times))}`,
    },
    encoding: "utf8",
  });
  return { status, signal, told: stdout === "" ? "nothing" : Object.keys(JSON.parse(stdout)) };
};

test.each([
  { command: "sweep", name: "SIGTERM", told: "verdict" },
  { command: "sweep", name: "SIGINT", told: "verdict" },
  { command: "rack run", name: "SIGTERM", told: "fixtures" },
  { command: "start", name: "SIGINT", told: "verdict" },
  { command: "practice", name: "SIGINT", told: "rounds" },
] as const)("$command, a $name between the end of a run and its sheet: the sheet is printed", (late) => {
  expect(endedAfter(late.command, late.name, 1)).toEqual({
    status: 0,
    signal: null,
    told: expect.arrayContaining([late.told]),
  });
});

test("a second one ends the program at once", () => {
  expect(endedAfter("sweep", "SIGINT", 2)).toEqual({ status: null, signal: "SIGINT", told: "nothing" });
});

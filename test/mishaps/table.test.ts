import { existsSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";

/** The table of mishaps that contributors read: fault, fixture, screen, disk, and the tests that show it. */
const PAGE = readFileSync("DEVELOPERS.md", "utf8");
const SECTION = /\n## When things go wrong\n([\s\S]*?)(?=\n## )/.exec(PAGE)?.[1] ?? "";
const rows = SECTION.split("\n")
  .filter((line) => line.startsWith("| ") && !line.startsWith("| what happens"))
  .map((line) => line.split(" | ").map((cell) => cell.replaceAll(/^\| | \|$/g, "").trim()));

/** Everything that must have a line. */
const FAULTS = [
  "cable of a serial interface",
  "plain serial adapter",
  "receiver on the network",
  "network cable",
  "network unreachable",
  "hangs",
  "slow",
  "gone when it is to be opened",
  "two programs on one port",
  "clock of the computer set",
  "slept",
  "terminal closed",
  "SIGTERM",
  "Ctrl-C twice",
  "asked to end (SIGINT, or a kill) when the run is over",
  "mistake of ours",
  "disk full",
  "journal locked",
  "log cannot be written",
  "killed outright",
];

test.each(FAULTS)("the table says what happens with: %s", (fault) => {
  expect(rows.filter(([what]) => what?.includes(fault)).length).toBe(1);
});

describe.each(rows)("%s", (...cells) => {
  test("says what the fixture does, what the screen says, what is on disk, and how often it was tried", () => {
    expect(cells.length).toBe(6);
    for (const cell of cells) expect(cell.length).toBeGreaterThan(3);
  });

  const named = [...(cells[4] ?? "").matchAll(/`([\w/-]+): ([^`]+)`/g)];
  test("names tests", () => {
    expect(named.length).toBeGreaterThan(0);
  });

  test.each(named.map(([, file = "", name = ""]) => ({ file, name })))("$file: $name", ({ file, name }) => {
    const path = `test/${file}.test.ts`;
    expect(existsSync(path), path).toBe(true);
    expect(literalsOf(path)).toContain(name);
  });
});

/** Names of tests as they stand in the file. */
const literalsOf = (path: string): readonly string[] =>
  [...readFileSync(path, "utf8").matchAll(/(?:^|[(\s])(["'])((?:(?!\1)[^\\\n]|\\.)+)\1,/gm)].map(
    ([, , text]) => text ?? "",
  );

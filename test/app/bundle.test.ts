import { spawnSync } from "node:child_process";
import { afterAll, expect, test } from "vitest";
import { program } from "../kit/built.ts";
import { SHORT_SEQUENCE, workplace } from "../kit/limber.ts";

const place = workplace();
afterAll(() => {
  place.remove();
});

test("the bundled program finds its data files, its journal's thread and its packages", () => {
  const short = place.file("short.yaml", SHORT_SEQUENCE);
  const run = (...args: readonly string[]) =>
    spawnSync(process.execPath, [program(), ...args], {
      encoding: "utf8",
      env: { PATH: process.env["PATH"] ?? "", HOME: place.folder },
    });
  const swept = run(
    "sweep",
    "--sequence",
    short,
    "--watcher",
    "1",
    "--fast",
    "--serial",
    "B-1",
    "--journal",
    place.journal,
  );
  expect({ code: swept.status, err: swept.stderr }).toEqual({ code: 0, err: "" });
  expect(run("runs", "--journal", place.journal).stdout).toContain("B-1");
  expect(run("outputs").stdout).toContain("sim");
}, 60_000);

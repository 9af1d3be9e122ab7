import { spawnSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { readProfile } from "../../src/data/profile/parse.ts";
import { program } from "../kit/built.ts";
import { workplace } from "../kit/limber.ts";
import { must } from "../kit/shipped.ts";
import { inTerminal } from "../kit/terminal.ts";

const place = workplace();
afterAll(() => place.remove());
const main = () => program();

/** A name, a fixture, a mode of six slots on LEDs: pan and tilt in one slot each, shutter, dimmer, and two that do nothing. */
const ANSWERS = ["little", "Little spot", "", "6", "", "", "", "", "", "tilt", "", "", "", "", "", "", "", "", "", ""];
const LAST = ["other", "", "", "other", "", ""];

test("at a terminal: a guess is taken with ENTER, back goes back, the check has the last word, the file is written", async () => {
  const file = join(place.folder, "little.yaml");
  const run = inTerminal([main(), "profile", "new", "--out", file], { columns: 100, rows: 30 });
  await run.until("A name for this profile, and for its file: small letters, digits and hyphens? [little]");
  run.type("Little\r");
  await run.until('"Little" is not a name (such as wash-extended)');
  run.type("\r");
  await run.until("What kind of fixture is it");
  run.type("Wash\r");
  await run.until("as the fixture's own menu calls it? [basic mode]");
  run.type("back\r");
  await run.until("One answer back.");
  run.type("Little spot\r\r");
  await run.until("How many slots does this mode take?");
  run.type("6\r\r\r");
  await run.until("Slot 1 of 6: what does it do? [pan]");
  run.type("\r540\r\r");
  await run.until("1  pan, -270 to 270 degrees in 2.6 s");
  await run.until("Slot 2 of 6: what does it do? [pan fine]");
  run.type("tilt\r\r1.5\r");
  await run.until("Slot 3 of 6: what does it do? [shutter]");
  run.type("\r\r\r\r\r");
  await run.until("Slot 4 of 6: what does it do? [dimmer]");
  run.type("show\r");
  await run.until("3  shutter, 0-31 closed, 32-63 open, 64-200 strobe, 201-255 open");
  run.type("\r\r\r");
  await run.until("Slot 5 of 6: what does it do? [red emitter]");
  run.type("other\rcolour macro\r10\rother\r\r\r");
  await run.until("little: nothing to correct. Little spot, basic mode, 6 slots, 4 functions.");
  await run.until(`Write it to ${file}? [yes]`);
  expect(existsSync(file)).toBe(false);
  run.type("\r");
  expect(await run.ended).toBe(0);
  const text = readFileSync(file, "utf8");
  const { profile } = must(readProfile("little.yaml", text));
  expect([...profile.functions.keys()]).toEqual(["Pan", "Tilt", "Shutter1", "Dimmer"]);
  expect(text).toMatch(/^# yaml-language-server: \$schema=\S+profile\.schema\.json\n/);
  expect(text).toContain("full_travel_s: 2.6, lag_s: 0.3 }   # time guessed, not measured");
  expect(text).toContain(
    "held:\n  - { slots: [5], at: 10, is: colour macro }\n  - { slots: [6], at: 0, is: not used }\n",
  );
}, 60_000);

const piped = (lines: readonly string[], ...args: readonly string[]) =>
  spawnSync(process.execPath, [main(), "profile", "new", ...args], {
    input: lines.map((line) => `${line}\n`).join(""),
    encoding: "utf8",
    cwd: place.folder,
  });

test("answers from a pipe do as well; without --out the file is called as the profile", () => {
  const { status, stdout } = piped(["small", ...ANSWERS.slice(1), ...LAST, "yes"]);
  expect(stdout).toContain("Written: small.yaml");
  expect(status).toBe(0);
});

test("what is there already is never overwritten, and another name can be said", () => {
  const before = "profile: precious\n";
  const file = place.file("precious.yaml", before);
  const { status, stdout } = piped([...ANSWERS, ...LAST, "yes", "nowhere/x.yaml", "second.yaml"], "--out", file);
  expect(stdout).toContain("there is such a file already: nothing is written there.");
  expect(stdout).toContain("there is no such file or folder: nothing is written there.");
  expect(stdout).toContain("Written: second.yaml");
  expect(readFileSync(file, "utf8")).toBe(before);
  expect(status).toBe(0);
});

test.each([
  { lines: ANSWERS, because: "the answers end too early" },
  { lines: [...ANSWERS, ...LAST, "no"], because: "the last answer is no" },
])("nothing is written when $because", ({ lines }) => {
  const { status, stdout } = piped(lines, "--out", "none.yaml");
  expect(stdout).toContain("Stopped. Nothing was written.");
  expect(status).toBe(4);
  expect(existsSync(join(place.folder, "none.yaml"))).toBe(false);
});

test("Ctrl-C in the middle writes nothing", async () => {
  const run = inTerminal([main(), "profile", "new"], { cwd: place.folder });
  await run.until("A name for this profile");
  run.type("x\r");
  await run.until("What kind of fixture");
  run.type("\u0003");
  expect(await run.ended).toBe(4);
  expect(run.output()).toContain("Nothing was written.");
});

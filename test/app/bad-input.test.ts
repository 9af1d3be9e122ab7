import { spawnSync } from "node:child_process";
import { afterAll, expect, test } from "vitest";
import { program } from "../kit/built.ts";
import { SHORT_SEQUENCE, workplace } from "../kit/limber.ts";

const place = workplace();
afterAll(() => place.remove());

const broken = place.file("broken.yaml", "profile: [oops\n");
const wrong = place.file("wrong.yaml", "profile: Wrong One\ntitle: 3\nslots: 900\n");
const clash = place.file(
  "clash.yaml",
  `profile: clash
title: Clash
slots: 4
power_up_s: 1
lamp: { kind: led, strike_s: 0, warm_s: 0, restrike_s: 0 }
functions:
  Pan:    { slots: [1, 2], from_deg: -270, to_deg: 270, full_travel_s: 2 }
  Dimmer: { slots: [2], from_pct: 0, to_pct: 100, full_travel_s: 1 }
rest: { Dimmer: 0 }
`,
);
const blades = place.file("blades.yaml", "sequence: blades\ntitle: Blades\nsteps:\n  - sweep: Blade1A\n");
const tlit = place.file("tlit.yaml", "sequence: w\ntitle: W\nsteps:\n  - sweep: [Pan, Tlit]\n");
const short = place.file("short.yaml", SHORT_SEQUENCE);

test.each([
  {
    args: ["--profile", "spot-16bt"],
    says: 'there is no profile of this name (did you mean "spot-16bit"?)',
    because: "an unknown profile names the nearest",
  },
  {
    args: ["--sequence", "quik"],
    says: 'there is no sequence of this name (did you mean "quick"?)',
    because: "an unknown sequence names the nearest",
  },
  {
    args: ["--profile", "spot-16bt", "--sequence", "quik"],
    says: "quik: there is no sequence",
    because: "both are told at once",
  },
  { args: ["--profile", "./"], says: "./: there is no profile of this name", because: "a folder is no file" },
  { args: ["--profile", broken], says: "broken.yaml:", because: "malformed YAML has a place" },
  { args: ["--profile", wrong], says: "it must be at most 512", because: "a schema violation has a reason" },
  { args: ["--profile", clash], says: "slot 2 already belongs to Pan", because: "slots cannot overlap" },
  { args: ["--address", "500"], says: "past 512 (at most 483)", because: "the fixture must end at 512 or before" },
  { args: ["--address", "0"], says: '"0" is not a start address', because: "addresses count from 1" },
  {
    args: ["--sequence", tlit],
    says: 'tlit.yaml:4:18: not one of the known words (did you mean "Tilt"?)',
    because: "one wrong name of a list is wrong at that name",
  },
  {
    args: ["swep"],
    says: 'there is no such command (did you mean "sweep"?)',
    because: "a misspelt command is no argument",
  },
  {
    args: ["--sequence", blades],
    says: "no step of this sequence fits anything",
    because: "a sequence must fit something",
  },
  {
    args: ["--set", "tilt-drive-slak"],
    says: 'did you mean "tilt-drive-slack"',
    because: "an unknown fault names the nearest",
  },
  {
    args: ["--set", "blade-guide-tight"],
    says: "needs something that this fixture does not have",
    because: "a spot has no blades",
  },
  { args: ["--watcher", "x"], says: "It must be a whole number, such as 3.", because: "a seed is a number" },
  { args: ["sweep", "--output", "cable"], says: '"cable" is not an output', because: "outputs have a kind" },
  {
    args: ["sweep", "--output", "sacn:2"],
    says: "--to: sACN must be told where to go",
    because: "nothing is sent where nobody said",
  },
  { args: ["sweep", "--to", "10.0.0.5"], says: "name an --output too", because: "an address alone says nothing" },
  {
    args: ["sweep", "--output", "serial:/dev/null", "--fast"],
    says: "only on the simulated bench",
    because: "metal moves in real time",
  },
  { args: ["sweep"], says: "there is no terminal here", because: "somebody has to watch" },
  {
    args: ["sheet", "nope", "--journal", place.journal],
    says: "there is no run of this name",
    because: "a run is named as in the journal",
  },
  { args: ["strat"], says: 'did you mean "start"', because: "a misspelt command starts nothing" },
])("$because: exit 2, said in words, no stack trace", async ({ args, says }) => {
  const { code, err, out } = place.limber(...args);
  expect(`${out}${err}`).toContain(says);
  expect(`${out}${err}`).not.toMatch(/\n\s+at .*:\d+:\d+/);
  expect(code).toBe(2);
});

test.each([
  {
    args: ["sweep", "--output", "serial:/dev/limber-is-not-here", "--watcher", "1"],
    code: 2,
    because: "the simulated watcher cannot see a real fixture",
  },
  {
    args: ["sheet", "x", "--journal", "/dev/null/journal.db"],
    code: 3,
    because: "a journal that cannot be opened is the world's fault",
  },
])("$because: exit $code", async ({ args, code }) => {
  const ended = place.limber(...args);
  expect({ code: ended.code, trace: /\n\s+at .*:\d+:\d+/.test(ended.err) }).toEqual({ code, trace: false });
  expect(ended.err).not.toContain("mistake in Limber");
});

test("a serial number full of control characters is refused, and shown so that it does nothing", async () => {
  const { code, err } = place.limber(
    "sweep",
    "--serial",
    "A\u001b[2J\u0007",
    "--watcher",
    "1",
    "--fast",
    "--sequence",
    short,
    "--journal",
    place.journal,
  );
  expect(code).toBe(2);
  expect(err.replaceAll("\n", "")).not.toMatch(/\p{Cc}/u);
  expect(err).toContain("has a character in it that nobody can see");
}, 60_000);

test("whoever reads only the beginning of what is printed ends nothing", () => {
  const sweep = [
    "sweep",
    "--watcher",
    "1",
    "--fast",
    "--sequence",
    short,
    "--journal",
    place.journal,
    "--serial",
    "P-1",
  ];
  const { status, stderr } = spawnSync(
    "bash",
    ["-c", '"$0" "$@" > >(exec 0<&-; true); ', process.execPath, program(), ...sweep],
    { encoding: "utf8", env: { PATH: process.env["PATH"], HOME: place.folder } },
  );
  expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
}, 60_000);

import { join } from "node:path";
import { stripVTControlCharacters } from "node:util";
import { afterAll, expect, test } from "vitest";
import { widthOf } from "../../src/reports/wrap.ts";
import { program } from "../kit/built.ts";
import { workplace } from "../kit/limber.ts";
import { SMALL_SPOT } from "../kit/small-spot.ts";
import { inTerminal } from "../kit/terminal.ts";

const place = workplace();
afterAll(() => place.remove());

const own = place.file("own.yaml", SMALL_SPOT);

/** Commands that tell line by line, up to a moment at which they have told most; then they are left. */
test.each([
  {
    args: ["profile", "new", "--out", join(place.folder, "new.yaml")],
    until: "A name for this profile",
    because: "an interview",
  },
  {
    args: ["profile", "prove", own, "--output", "sim"],
    until: "all of this is confirmed",
    because: "a profile is verified",
  },
  {
    args: ["rack", "identify", "demo", "--output", "sim", "--plain", "--journal", join(place.folder, "i.db")],
    until: /If not: .*stops/,
    because: "one fixture after the other is asked to move",
  },
  {
    args: ["practice", "--plain", "--journal", join(place.folder, "p.db")],
    until: /Stop it all|stops it all/,
    because: "practice, told line by line",
  },
  {
    args: [
      "sweep",
      "--output",
      "sim",
      "--plain",
      "--serial",
      "A-17",
      "--person",
      "KM",
      "--journal",
      join(place.folder, "s.db"),
    ],
    until: "stops it all",
    because: "a run, told line by line",
  },
  { args: ["faults", "--help"], until: "--journal", because: "help" },
])(
  "$args.0 $args.1: no word is cut at column 80: $because",
  async ({ args, until }) => {
    const run = inTerminal([program(), ...args], { env: { HOME: place.folder } });
    await run.until(until).catch((error: unknown) => {
      if (!stripVTControlCharacters(run.output()).replaceAll(/\s+/g, " ").match(until)) throw error;
    });
    run.type("\u0003");
    await run.ended;
    const rows = stripVTControlCharacters(run.output())
      .split(/\r?\n/)
      .filter((row) => widthOf(row.replaceAll("\r", "")) > 80);
    expect(rows).toEqual([]);
  },
  60_000,
);

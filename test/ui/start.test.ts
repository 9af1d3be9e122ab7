import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { program } from "../kit/built.ts";
import { inTerminal } from "../kit/terminal.ts";

/** The program itself, as somebody starts it who has just installed it. Real seconds, however busy the machine. */
const SLOW = 240_000;

test(
  "under a terminal it opens the simulated bench with something hidden in the fixture; Ctrl-C tells the hidden fault",
  async () => {
    const run = inTerminal([program(), "start", "--bench", "benches/bench.yaml"]);
    const first = await run.until("BEFORE ANYTHING MOVES");
    expect(first).toContain("SIMULATED fixture.");
    expect(first).toContain("Practice: find out what is wrong with this fixture.");
    run.type("c");
    await run.until("SLOW MOVEMENT FIRST");
    await run.until("Watch for:");
    run.type("\u0003");
    expect(await run.ended).toBe(4);
    expect(run.buffer()).toBe("normal");
    expect(run.output()).toContain("Hidden fault of the simulated fixture:");
  },
  SLOW,
);

test(
  "a fault that was set can be seen and heard: the strip shows where it is, words say what it sounds like",
  async () => {
    const sequence = join(mkdtempSync(join(tmpdir(), "limber-start-")), "pan.yaml");
    writeFileSync(sequence, "sequence: pan\ntitle: Pan\nsteps:\n  - { sweep: Pan, deg_per_s: 100, passes: 6 }\n");
    const args = ["start", "--bench", "benches/bench.yaml", "--set", "pan-track-dented", "--sequence", sequence];
    const run = inTerminal([program(), ...args]);
    await run.until("BEFORE ANYTHING MOVES");
    run.type("c");
    await run.until(/\[-*O-*\|-*\]|\[-*\|-*O-*\]/);
    await run.until(/You hear: pan: /);
    run.type("\u0003");
    expect(await run.ended).toBe(4);
    expect(run.output()).toContain("Hidden fault of the simulated fixture: a dent in the pan bearing track");
  },
  SLOW,
);

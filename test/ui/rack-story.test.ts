import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { program } from "../kit/built.ts";
import { inTerminal, type TerminalRun } from "../kit/terminal.ts";
import { quickSpot } from "./play.ts";

/** Real seconds under a real pseudo-terminal: as long as they take, on however busy a machine. */
const SLOW = 240_000;
const SHELVES = ["top", "bottom"];

/** Twelve simulated spots on two shelves, all of them quick. */
const workplace = () => {
  const folder = mkdtempSync(join(tmpdir(), "limber-rack-"));
  const [profile, rack, sequence] = ["spot.yaml", "rack.yaml", "short.yaml"].map((name) => join(folder, name));
  const fixtures = Array.from(
    { length: 12 },
    (_, n) =>
      `  - { serial: S${n + 1}, profile: ${profile}, shelf: ${SHELVES[Math.floor(n / 6)]}, place: "${n + 1}", universe: 1, address: ${1 + 30 * n} }`,
  );
  writeFileSync(profile!, quickSpot());
  writeFileSync(
    rack!,
    `rack: quick\ntitle: Quick rack\nlines: [{ universe: 1, output: sim }]\ngroups: { fine: 6 }\nfixtures:\n${fixtures.join("\n")}\n`,
  );
  writeFileSync(
    sequence!,
    "sequence: short\ntitle: Short check\nsteps:\n  - { in-and-out: Prism1, times: 3, dwell_s: 0.5 }\n  - { in-and-out: Frost1, times: 1, dwell_s: 0.3 }\n",
  );
  const journal = join(folder, "journal.db");
  const start = (...args: readonly string[]): TerminalRun => inTerminal([program(), ...args, "--journal", journal]);
  return { start, run: () => start("rack", "run", rack!, "--sequence", sequence!) };
};

/** Past the lead-in, in which a press belongs to the step before. */
const moving = (group: number) => (screen: string) =>
  screen.includes(`Group ${group} of 2`) && /\n {2}PRISM\n/.test(screen) && !screen.includes("It moves to the start");

/** Who was pressed for, and what is answered of each when it is alone: good, or the first symptom of the list. */
const ALONE = [
  ["S2", "top, 2", "g"],
  ["S5", "top, 5", "1\r"],
  ["S10", "bottom, 10", "g"],
] as const;

/** Alone it is asked about as on any bench: the safety page when somebody may have walked up, then the question. */
const answerAlone = async (run: TerminalRun, serial: string, place: string, key: string): Promise<void> => {
  const alone = (screen: string) => screen.includes(`  ${serial}, `) && screen.includes(`Alone: ${place}.`);
  const asked = (screen: string) => alone(screen) && screen.includes("PRISM: WHAT DID YOU SEE?");
  const first = await run.until((now) => asked(now) || (alone(now) && now.includes("BEFORE ANYTHING MOVES")));
  if (!asked(first)) await run.press("c", (now) => !now.includes("BEFORE ANYTHING MOVES"));
  expect(await run.until(asked)).toContain("step 3 of 3");
  for (const one of key) await run.press(one, (now) => !asked(now) || now.includes("Named: "));
};

/** What the single bench tells or offers after an answer is read and declined. */
const leafOn = async (run: TerminalRun, serial: string): Promise<void> => {
  const there = /WHERE IT HAPPENED|WHAT NEXT\?/;
  const over = (screen: string) => !screen.includes(`  ${serial}, `) || screen.includes("FINISHED");
  for (;;) {
    const page = await run.until((now) => over(now) || there.test(now)).catch(() => "");
    const [headline] = there.exec(page) ?? [];
    if (headline === undefined) return;
    await run.press("\r", (now) => over(now) || !now.includes(headline)).catch(() => {});
  }
};

test(
  "twelve fixtures, presses on three: the second pass is only those, only what was pressed",
  async () => {
    const run = workplace().run();
    await run.until("BEFORE ANYTHING MOVES");
    await run.press("c", "SLOW MOVEMENT FIRST");
    await run.until(moving(1));
    await run.press("f", "F  2   S2   pressed once");
    await run.press("k", "K  5   S5   pressed once");
    await run.until("DID YOU WATCH THESE?");
    await run.press("\r", moving(2));
    // A fixture keeps its letter on every page.
    await run.press("O", "O  10  S10  pressed once");
    await run.until("DID YOU WATCH THESE?");
    await run.press("\r", "ALL GROUPS ARE DONE");
    expect(run.screen().match(/ suspect(?!s)/g)).toHaveLength(3);
    await run.press("y", (screen) => screen.includes("Alone: "));
    for (const [serial, place, key] of ALONE) {
      await answerAlone(run, serial, place, key);
      await leafOn(run, serial);
    }
    expect(await run.ended).toBe(0);
    const output = run.output().replaceAll(/\s+/g, " ");
    expect(output).toContain("One has something wrong: S5, top, 5: prism");
    expect(output).toMatch(/Nothing seen: S1, S2, S3, S4, S6/);
  },
  SLOW,
);

test(
  "pause, one withdrawn, one swapped, stopped, and gone on with another day",
  async () => {
    const place = workplace();
    const run = place.run();
    await run.until("BEFORE ANYTHING MOVES");
    await run.press("c", moving(1));
    run.type("w");
    await run.until("After this step: pause.");
    await run.until("PAUSE");
    run.type("d ");
    await run.until(/S1 {3}withdrawn/);
    run.type("faN9\r");
    await run.until(/2 {3}N9 {3}waits/);
    run.type("s");
    expect(await run.ended).toBe(4);
    const [, name = ""] = /run (\d{8}-\d{4}-[0-9a-f]{6});/.exec(run.output().replaceAll(/\s+/g, " ")) ?? [];
    const later = place.start("rack", "resume", name);
    await later.until("BEFORE ANYTHING MOVES");
    expect(later.screen()).toContain("S1 (withdrawn)");
    await later.press("c", moving(1));
    expect(later.screen()).toMatch(/F {2}2 {3}N9 {3}moves now/);
    later.type("s");
    expect(await later.ended).toBe(4);
  },
  SLOW,
);

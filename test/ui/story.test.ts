import { expect, test } from "vitest";
import type { TerminalRun } from "../kit/terminal.ts";
import { over, play } from "./play.ts";

/** Real seconds under a real pseudo-terminal: as long as they take, on however busy a machine. */
const SLOW = 240_000;
const page = (name: string) => `./pages/story-${name}.txt`;
const PAN = "{ sweep: Pan, seconds: 0.6, passes: 2 }";
const IRIS = "{ sweep: Iris, seconds: 0.6, passes: 2 }";

/** Past the lead-in, in which a press belongs to the step before. */
const moving = (headline: string) => (screen: string) =>
  screen.includes(`\n  ${headline}\n`) &&
  screen.includes("left in this step") &&
  !screen.includes("It moves to the start");

/** What was printed when the screen was gone, on one line. */
const afterwards = (run: TerminalRun): string => {
  const output = run.output();
  return output.slice(output.lastIndexOf("\u001b[?1049l")).replaceAll(/\s+/g, " ");
};

test(
  "power-up, sweep with presses, fail with two symptoms, a note, undo, again, away and back, finish, job sheet",
  async () => {
    const run = play({ steps: ["power-up: fixture", PAN, IRIS], serial: "\u001b]0;owned\u0007A\u202e17" });
    await expect(`${await run.until("SWITCH THE MAINS ON")}\n`).toMatchFileSnapshot(page("mains-on"));
    await run.press("m", "POWER UP");
    await run.until("It homes by itself");
    await run.until("POWER UP: WHAT DID YOU SEE?");
    await run.press("\r", "SLOW MOVEMENT FIRST");
    await run.until(moving("PAN"));
    await run.press(" ", "Pressed once in this step.");
    await run.until("PAN: WHAT DID YOU SEE?");
    await run.press("6", "Named: pan scrapes or grinds.");
    run.type("0");
    await run.press("3", "Named: pan scrapes or grinds; error on the display.");
    await run.press("u", "Named: pan scrapes or grinds.");
    run.type("3nclunk\u202e at the left end\u0007\r");
    await expect(`${await run.until("Note: clunk")}\n`).toMatchFileSnapshot(page("asked"));
    await run.press("f", /^ {2}IRIS$/m);
    await run.until("Before: pan: full sweep - failed");
    await run.press("a", ", try 2,");
    await run.until("IRIS: WHAT DID YOU SEE?");
    await run.press("w", "Before it moves again you confirm the area.");
    await expect(`${await run.press("u", "PAN: WHAT DID YOU SEE?")}\n`).toMatchFileSnapshot(page("asked-again"));
    await run.press("\r", "IRIS: WHAT DID YOU SEE?");
    await run.press("a", "BEFORE ANYTHING MOVES");
    await run.press("c", "SLOW MOVEMENT FIRST");
    await run.until(", try 3,");
    await run.until("IRIS: WHAT DID YOU SEE?");
    run.type("\r");
    expect(await over(run)).toBe(0);
    expect(run.buffer()).toBe("normal");
    const printed = afterwards(run);
    expect(printed).toContain("Job sheet: \\u001b]0;owned\\u0007A\\u202e17");
    expect(printed).toContain("pan: full sweep - pan scrapes or grinds; error on the display; 1 press");
    expect(printed).toContain("clunk\\u202e at the left end");
    expect(printed).toContain("1 fail");
    expect(printed).toContain("The last frame was dark, and no axis had jumped.");
    expect(run.output()).not.toContain("\u001b]0;");
    expect(run.output()).not.toContain("\u202e");
  },
  SLOW,
);

test(
  "hands-off: leaving waits until the step is over, the group is confirmed, what nobody watched does not count",
  async () => {
    const run = play({ steps: [PAN, IRIS, "{ sweep: Zoom, seconds: 3, passes: 2 }"], mode: "hands-off" });
    await run.until("BEFORE ANYTHING MOVES");
    await run.press("c", /^ {2}PAN$/m);
    await run.press("w", "After this step: pause, dark and still.");
    await expect(`${await run.until("  PAUSE")}\n`).toMatchFileSnapshot(page("away"));
    await run.press("y", "BEFORE ANYTHING MOVES");
    // Well into it: a press just after the step before would belong to that.
    await run.press("c", (screen) => moving("ZOOM")(screen) && /^ {2}[1-4] s left in this step/m.test(screen));
    run.type(" ");
    await run.until("ZOOM: WHAT DID YOU SEE?");
    await expect(`${await run.press("x", "DID YOU WATCH THESE?")}\n`).toMatchFileSnapshot(page("confirm"));
    run.type("\r");
    expect(await over(run)).toBe(0);
    const printed = afterwards(run);
    expect(printed).toContain("2 pass, 1 unsure");
  },
  SLOW,
);

test(
  "in plain mode the same, line by line",
  async () => {
    const run = play({ steps: [PAN], plain: true });
    await run.until("all of this is confirmed.");
    await run.press("c", "Step 1 of 1, pan");
    await run.press(" ", "Pressed once in this step.");
    await run.until("ENTER: unsure.");
    run.type("60");
    await run.press("3", "error on the display.");
    await run.press("u", /Named: pan scrapes or grinds\.$/m);
    run.type("\r");
    expect(await over(run)).toBe(0);
    // From here on what comes when depends on how quickly a thread works out what it may be.
    const [told = "", after = ""] = run.output().split("CALCULATING THE LIKELY FAULTS");
    expect(told).not.toContain("\u001b");
    const said = told
      .split("\r\n")
      .filter(
        (line) => !/^(?:You hear|It is quiet|On the wall|Display|Pressed once|[a-z][\w ]*: [\w ]+\.$)/.test(line),
      );
    for (const words of ["Pan: full sweep - failed (pan scrapes or grinds). Saved.", "WHAT NEXT?", "FINISHED"])
      expect(after).toContain(words);
    await expect(said.join("\n")).toMatchFileSnapshot(page("plain"));
  },
  SLOW,
);

test(
  "Ctrl-C at full movement: it goes dark where it stands, the job sheet is printed, the terminal is sane",
  async () => {
    const run = play({ steps: ["{ sweep: Pan, seconds: 30, passes: 2 }"], thenInShell: "stty -a" });
    await run.until("BEFORE ANYTHING MOVES");
    // Away from the end, so that the last frame that changed something is one of the movement itself.
    await run.press("c", (screen) => moving("PAN")(screen) && /^ {2}pan .*\] +-2[0-5]\d degrees/m.test(screen));
    expect(run.buffer()).toBe("alternate");
    run.type("\u0003");
    expect(await run.ended).toBe(0);
    expect(run.buffer()).toBe("normal");
    const output = run.output();
    expect(output).toContain("stopped before the end");
    expect(output).toContain("The last frame was dark, and no axis had jumped.");
    expect(output.lastIndexOf("\u001b[?25h")).toBeGreaterThan(output.lastIndexOf("\u001b[?25l"));
    for (const mode of ["icanon", "echo", "isig", "icrnl"]) expect(output).toMatch(new RegExp(`[\\s]${mode}\\b`));
  },
  SLOW,
);

test(
  "a terminal of another size is drawn anew, without ghosts; NO_COLOR is obeyed, and nothing is told by colour alone",
  async () => {
    // biome-ignore lint/suspicious/noControlCharactersInRegex: this is what a colour is made of
    const colours = /\u001b\[[0-9;]*m/;
    const plainly = play({ steps: [PAN], env: { NO_COLOR: "1" } });
    const coloured = play({ steps: [PAN] });
    const first = await plainly.until("BEFORE ANYTHING MOVES");
    expect(await coloured.until("BEFORE ANYTHING MOVES")).toBe(first);
    plainly.resize(60, 20);
    await plainly.until("This terminal has 60 columns and 20 rows");
    plainly.resize(110, 34);
    await plainly.until((screen) => screen.split("\n").some((row) => row.length > 90) && screen.includes("BEFORE"));
    plainly.resize(80, 24);
    expect(await plainly.until((screen) => screen === first)).toBe(first);
    for (const run of [plainly, coloured]) {
      run.type("\u0003");
      await run.ended;
    }
    expect(plainly.output()).not.toMatch(colours);
    expect(coloured.output()).toMatch(colours);
  },
  SLOW,
);

test(
  "letters several rows high for somebody three metres away",
  async () => {
    const run = play({ steps: [PAN], distance: true });
    const first = await run.until(/█{4}/);
    expect(first).toContain("all of this is confirmed.");
    run.type("\u0003");
    await run.ended;
  },
  SLOW,
);

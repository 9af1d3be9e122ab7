import { describe, expect, test } from "vitest";
import { boardCounts, boardLeft, boardLines, boardPage } from "../../../src/reports/board.ts";
import type { EventBody } from "../../../src/run/events/event.ts";
import { boardOf } from "../../../src/run/memory/board.ts";
import { briefFrom, type Happened, standingsFrom } from "./happened.ts";

const passed = { steps: [{ of: "Pan", result: "pass" }] } as const satisfies Partial<Happened>;
const failed = { steps: [{ of: "Pan", result: "fail" }] } as const satisfies Partial<Happened>;
const TODAY = "2026-11-28";
const at = (hour: number) => `${TODAY}T${String(hour).padStart(2, "0")}:00:00.000Z`;
/** It is set aside after its run, which ends first. */
const CLOSED = { kind: "run-closed", how: "finished" } as const satisfies EventBody;
const STOPPED = { kind: "run-closed", how: "stopped" } as const satisfies EventBody;
const aside = (why: "part" | "cooling"): EventBody => ({ kind: "set-aside", why, note: "" });

const SHOP: readonly Happened[] = [
  { run: "0", serial: "OLD", at: "2026-11-20T09:00:00.000Z", ...passed },
  { run: "1", serial: "A-1", at: at(8), ...failed },
  { run: "2", serial: "A-2", at: at(9), ...failed, ended: "open", after: [CLOSED, aside("part")] },
  { run: "3", serial: "A-3", at: at(10), ...passed, ended: "open" },
  { run: "4", serial: "A-4", at: at(11), ...passed, ended: "open", after: [STOPPED, aside("cooling")] },
];
const board = boardOf(
  { kind: "day", day: TODAY },
  {
    runs: SHOP.map(briefFrom),
    standings: standingsFrom(...SHOP),
    expected: ["A-1", "A-9"],
    simulated: false,
  },
);

describe("the board of a day", () => {
  test("has every fixture of that day and every one that was listed, work under way first", () => {
    expect(board.rows.map(({ serial, state }) => [serial, state])).toEqual([
      ["A-3", "at-work"],
      ["A-1", "needs-work"],
      ["A-2", "part"],
      ["A-4", "cooling"],
      ["A-9", "not-seen"],
    ]);
  });

  test("counts them in words", () => {
    expect(boardCounts(board)).toBe(
      "5 fixtures: 1 needs work, 1 waiting for a part, 1 cooling, 1 in work, 1 not yet seen.",
    );
  });

  test("says how much work is left by the journal's own times: the mean of finished runs, less what was done", () => {
    const mean = board.rows.find(({ serial }) => serial === "A-9")?.left;
    expect(mean).toBeGreaterThan(0);
    expect(board.left).toEqual({ minutes: board.rows.reduce((sum, { left }) => sum + (left ?? 0), 0), unknown: 0 });
  });

  test("without any finished run it says that there is no figure, and invents none", () => {
    const first = boardOf(
      { kind: "day", day: TODAY },
      { runs: [], standings: new Map(), expected: ["A-1"], simulated: false },
    );
    expect(boardLeft(first)).toBe("Work left: 1 without a figure: nothing like it was finished before.");
  });

  test("what is touched again is no longer set aside", () => {
    const again: readonly Happened[] = [
      {
        run: "2",
        serial: "A-2",
        at: at(9),
        ...failed,
        after: [aside("part"), { kind: "run-closed", how: "finished" }],
      },
    ];
    const { rows } = boardOf(
      { kind: "day", day: TODAY },
      { runs: again.map(briefFrom), standings: standingsFrom(...again), expected: [], simulated: false },
    );
    expect(rows[0]?.state).toBe("needs-work");
  });

  test("says that something is wrong only where something is known to be: the rest is not released yet", () => {
    const shop: readonly Happened[] = [
      { run: "1", serial: "A-1", at: at(8), ...failed },
      { run: "2", serial: "A-2", at: at(9), ...failed },
      { run: "3", serial: "A-3", at: at(10), ...passed },
    ];
    const untested = boardOf(
      { kind: "day", day: TODAY },
      { runs: shop.map(briefFrom), standings: standingsFrom(...shop), expected: [], simulated: false },
    );
    expect(boardCounts(untested)).toBe("3 fixtures: 2 need work, 1 not released yet.");
    expect(untested.rows.map(({ left }) => left === undefined)).toEqual([false, false, false]);
  });

  test("fits the width it is given, and a hostile serial number does nothing", () => {
    const evil: readonly Happened[] = [{ run: "1", serial: `灯光\u001b[2J${"x".repeat(90)}`, at: at(8), ...failed }];
    const lines = boardLines(
      boardOf(
        { kind: "day", day: TODAY },
        { runs: evil.map(briefFrom), standings: standingsFrom(...evil), expected: [], simulated: false },
      ),
      60,
    );
    expect(lines.join("\n")).not.toContain("\u001b");
    expect(Math.max(...lines.slice(4).map(({ length }) => length))).toBeLessThanOrEqual(60);
  });

  test("is a page too", () => {
    const page = boardPage(board);
    expect(page).toContain("<h1>Board: 2026-11-28</h1>");
    for (const { serial } of board.rows) expect(page).toContain(serial);
  });
});

test("the board of a hire has what came back from it, whenever that was worked on", () => {
  const runs = SHOP.map(briefFrom).map((run) => ({ ...run, hire: run.serial === "OLD" ? "Autumn" : "" }));
  const { rows } = boardOf(
    { kind: "hire", hire: "Autumn" },
    { runs, standings: standingsFrom(...SHOP), expected: [], simulated: false },
  );
  expect(rows.map(({ serial }) => serial)).toEqual(["OLD"]);
});

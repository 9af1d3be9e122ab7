import { toHtml } from "hast-util-to-html";
import { h } from "hastscript";
import { describe, expect, test } from "vitest";
import { countedBars, resultGrid } from "../../src/reports/page/pictures.ts";
import { oldestWaiting } from "../../src/reports/page/stock-page.ts";
import type { StockFixture } from "../../src/run/memory/stock.ts";

const textsOf = (pieces: Parameters<typeof h>[2][] | readonly unknown[]): string =>
  toHtml(h("div", [...(pieces as [])]))
    .replaceAll(/<[^>]+>/g, " ")
    .replaceAll(/\s+/g, " ");

/** Ordered by count with the running share: M. O. Lorenz, J. M. Juran ("the vital few"); worked by hand here. */
test("faults by kind: the commonest first, each with its share, and the share of all up to it", () => {
  const rows = [
    { name: "iris", count: 2, note: "" },
    { name: "pan belt", count: 5, note: "" },
    { name: "fan", count: 1, note: "" },
  ];
  expect(textsOf(countedBars("Found", "Fault", rows))).toContain(
    "pan belt 5 63 % 63 % iris 2 25 % 88 % fan 1 13 % 100 %",
  );
});

test("nothing counted is no picture", () => {
  expect(countedBars("Found", "Fault", [])).toEqual([]);
});

test("results over time are told by a sign and not by a colour alone, and what was not tested stays blank", () => {
  const grid = resultGrid(
    "Runs.",
    "Function",
    ["11-01", "11-02", "11-03"],
    [
      { name: "pan", results: ["pass", undefined, "fail"] },
      { name: "tilt", results: ["unsure", "pass", "pass"] },
    ],
  );
  expect(textsOf(grid)).toContain("pan + X tilt ? + +");
  expect(textsOf(grid)).toContain("+ passed, ? unsure, X failed, blank: not tested.");
});

describe("oldest waiting", () => {
  const fixture = (serial: string, at: string, state: StockFixture["state"], because: readonly string[]) =>
    ({ serial, at, state, because }) as StockFixture;
  const stock = [
    fixture("A-1", "2026-11-20T09:00:00.000Z", "to-sign", []),
    fixture("A-2", "2026-11-02T09:00:00.000Z", "held-back", ["held back by KM: waits for a belt"]),
    fixture("A-3", "2026-10-01T09:00:00.000Z", "ready", []),
    fixture("A-4", "2026-11-10T09:00:00.000Z", "not-released", ["never tested: pan"]),
  ];
  const shown = (most: number) => textsOf(oldestWaiting(stock, "2026-11-22T10:00:00.000Z", most));

  test("what has waited longest comes first, with its days and its reason; what is ready does not wait", () => {
    expect(shown(5)).toContain(
      "A-2 held back by KM: waits for a belt 20 A-4 never tested: pan 12 A-1 waits for a signature 2",
    );
    expect(shown(5)).not.toContain("A-3");
  });

  test("only so many as fit, the longest of all among them; nothing that waits is no picture", () => {
    expect(shown(1)).toContain("A-2 held back by KM: waits for a belt 20");
    expect(shown(1)).not.toContain("A-4");
    expect(oldestWaiting([fixture("A-3", "2026-10-01T09:00:00.000Z", "ready", [])], "2026-11-22", 5)).toEqual([]);
  });
});

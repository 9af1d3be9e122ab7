import { toHtml } from "hast-util-to-html";
import { h } from "hastscript";
import { expect, test } from "vitest";
import { countedBars, resultGrid } from "../../src/reports/page/pictures.ts";

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

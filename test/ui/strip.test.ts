import { describe, expect, test } from "vitest";
import { gapStrip } from "../../src/ui/strip.ts";

const WIDTH = 41;
const strip = (told: number, seen: number | undefined) =>
  gapStrip(
    { told: { share: told, words: "" }, seen: seen === undefined ? undefined : { share: seen, words: "" } },
    WIDTH,
  );
/** Columns from the mark in the middle. */
const gap = (told: number, seen: number): number => strip(told, seen)!.indexOf("O") - 20;

describe("the gap between where it is and where it is told to be, enlarged", () => {
  test.each([
    { told: 0.2, seen: 0.133, columns: -13, because: "at 120 degrees a second of 540, 0.3 s of lag are 36 degrees" },
    { told: 0.8, seen: 0.733, columns: -13, because: "an even lag stands still, wherever it is" },
    { told: 0.2, seen: 0.1, columns: -16, because: "18 degrees more, a hesitation of 0.15 s, are three columns" },
    { told: 0.5, seen: 0.5019, columns: 2, because: "a swing of one degree beyond the stop is two columns" },
    { told: 0.1, seen: 0.9, columns: 20, because: "what is far off stands at the edge" },
  ])("$because", ({ told, seen, columns }) => {
    expect(gap(told, seen)).toBe(columns);
  });

  test("there is none while it turns on and on, nor on a real bench", () => {
    expect(gapStrip({ told: { share: undefined, words: "" }, seen: { share: 0.5, words: "" } }, WIDTH)).toBeUndefined();
    expect(strip(0.5, undefined)).toBeUndefined();
  });
});

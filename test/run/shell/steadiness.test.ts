import { expect, test } from "vitest";
import { Steadiness } from "../../../src/run/shell/steadiness.ts";

/** Beats with these gaps, each repeated so often; what was said. */
const said = (gaps: readonly (readonly [gap: number, times: number])[], stands = true) => {
  const steadiness = new Steadiness();
  return gaps.flatMap(([gap, times]) => Array.from({ length: times }, () => steadiness.beat(gap, stands) ?? []).flat());
};

test("a computer that leaves frames out while nothing moves yet is told of, once", () => {
  expect(
    said([
      [1, 90],
      [4, 8],
      [1, 400],
      [4, 8],
    ]),
  ).toEqual([
    'This computer is too busy: 24 of 120 frames came too late before anything moved. Close other programs; "limber doctor" names the busiest.',
  ]);
});

test.each<{ gaps: readonly (readonly [number, number])[]; because: string }>([
  { gaps: [[1, 300]], because: "it holds the beat" },
  {
    gaps: [
      [20, 2],
      [1, 300],
    ],
    because: "the first drawing of the screen takes a moment",
  },
  {
    gaps: [
      [1, 100],
      [2, 1],
      [1, 300],
    ],
    because: "one frame may be anything",
  },
])("nothing is said: $because", ({ gaps }) => {
  expect(said(gaps)).toEqual([]);
});

test("once something moves each step counts its own frames", () => {
  expect(said([[4, 200]], false)).toEqual([]);
});

import { describe, expect, test } from "vitest";
import { Steadiness, WasOut } from "../../../src/run/shell/beats.ts";

/** Frames of 25 ms from a moment on, as the shell reports them at every beat. */
const played = (was: WasOut, key: string, since: number, frames: number, from = 0) => {
  for (let n = 0; n <= frames; n++) was.beat(since + n * 0.025, key, from + n);
  was.beat(since + (frames + 1) * 0.025, "", 0);
};

describe("what was out at a moment that is over", () => {
  test("is the frame that had gone out, and the seconds since frame 0", () => {
    const was = new WasOut();
    played(was, "0.1", 10, 100);
    expect(was.at(11.01)).toEqual({ key: "0.1", frame: 40, after: expect.closeTo(1.01, 6) });
  });

  test("belongs to the step of then, whatever plays now", () => {
    const was = new WasOut();
    played(was, "0.1", 10, 100);
    played(was, "1.1", 20, 100);
    expect(was.at(12).key).toBe("0.1");
    expect(was.at(21)).toEqual({ key: "1.1", frame: 40, after: expect.closeTo(1, 6) });
  });

  test("goes on from where a step that had been frozen went on", () => {
    const was = new WasOut();
    played(was, "0.1", 10, 40);
    played(was, "0.1", 30, 40, 40);
    expect(was.at(30.5)).toEqual({ key: "0.1", frame: 60, after: expect.closeTo(1.5, 6) });
  });

  test.each([
    { because: "before anything played", at: 9 },
    { because: "between two steps", at: 15 },
    { because: "long after", at: 99 },
  ])("is nothing $because", ({ at }) => {
    const was = new WasOut();
    played(was, "0.1", 10, 100);
    played(was, "1.1", 20, 100);
    expect(was.at(at)).toEqual({ key: "", frame: 0, after: 0 });
  });
});

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

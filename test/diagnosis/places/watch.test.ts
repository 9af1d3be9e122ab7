import { expect, test } from "vitest";
import { crossingOf, passesOf, placeOn } from "../../../src/diagnosis/places/pass.ts";
import { pressTimes, watchOf } from "../../../src/diagnosis/places/watch.ts";
import { placeAt } from "../../../src/plan/sample.ts";
import { spot, stepOf } from "./kit/rig.ts";

const SWEEP = stepOf("{ sweep: Pan, deg_per_s: 60, passes: 4 }");

test("a sweep of four passes goes up and down twice, end to end, at the speed it was asked", () => {
  expect(passesOf(spot, SWEEP, "Pan").map(({ way, from, to, velocity }) => ({ way, from, to, velocity }))).toEqual([
    { way: "up", from: -270, to: 270, velocity: 60 },
    { way: "down", from: 270, to: -270, velocity: -60 },
    { way: "up", from: -270, to: 270, velocity: 60 },
    { way: "down", from: 270, to: -270, velocity: -60 },
  ]);
});

test("a pass says where the fixture is told to be, to within what 16 bits can say", () => {
  for (const pass of passesOf(spot, SWEEP, "Pan"))
    for (let time = pass.begin; time <= pass.end; time += 0.5) {
      const n = Math.round(time * 40);
      expect(Math.abs(placeOn(pass, n / 40) - placeAt(spot, SWEEP, "Pan", n)!)).toBeLessThan(540 / 65535);
    }
});

test("the way up is towards the higher DMX value, also where the percent fall", () => {
  const [first] = passesOf(spot, stepOf("{ sweep: Iris, seconds: 5, passes: 2 }"), "Iris");
  expect(first).toMatchObject({ way: "up", from: 100, to: 5 });
  expect(first?.velocity).toBeCloseTo(-19, 10);
});

test("a place is crossed when the pass comes there, and one beyond it never", () => {
  const [pass] = passesOf(spot, stepOf("{ short-sweep: Pan, deg_per_s: 60, passes: 2, inset_pct: 10 }"), "Pan");
  expect(pass!.from).toBeCloseTo(-216, 1);
  expect(crossingOf(pass!, -156)! - pass!.begin).toBeCloseTo(1, 3);
  expect(crossingOf(pass!, -230)).toBeUndefined();
});

test.each([
  { text: "{ snap: Pan, deg: 15 }", id: "Pan", because: "a jump is made at the fixture's own speed" },
  { text: "{ sweep: Pan }", id: "Tilt", because: "tilt stands still meanwhile" },
  { text: "step-through: Gobo1", id: "Gobo1", because: "a wheel has positions, not places" },
] as const)("nothing to place in $text for $id: $because", ({ text, id }) => {
  expect(watchOf(spot, stepOf(text), id, [])).toBeUndefined();
});

test.each([
  { presses: [{ frame: 100, after: 2.51 }], times: [2.51], because: "the clock says where in the frame" },
  { presses: [{ frame: 100, after: 9 }], times: [2.525], because: "while a movement is frozen its frames stand still" },
  {
    presses: [10, 30, 31, 32, 33, 34, 80].map((frame) => ({ frame, after: frame / 40 })),
    times: [0.25, 0.75, 2],
    because: "a key that is held repeats itself and is one press",
  },
])("$because", ({ presses, times }) => {
  expect(pressTimes(presses)).toEqual(times);
});

test("presses before the movement and long after it are not counted", () => {
  const presses = [2, SWEEP.leadIn + 40, SWEEP.frames + 20, SWEEP.frames + 400].map((frame) => ({
    frame,
    after: frame / 40,
  }));
  expect(watchOf(spot, SWEEP, "Pan", presses)?.presses).toEqual([(SWEEP.leadIn + 40) / 40, (SWEEP.frames + 20) / 40]);
});

import { expect, test } from "vitest";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import { rankTogether } from "../../../src/diagnosis/model/together.ts";
import { runWith, SPOT } from "./spot.ts";

test("two faults in two mechanisms are named as one answer", () => {
  const run = runWith({
    "sweep Iris": ["grinds", "not-round"],
    "snap Pan": ["swings-on"],
    "backlash Pan": ["side-differs"],
  });
  const [best] = rankTogether(SPOT, run, [], 3);
  expect(new Set(best!.faults.map(({ id }) => id))).toEqual(new Set(["iris-leaf-bent", "pan-belt-slack"]));
});

test("a clean run: the best answer is that nothing is broken", () => {
  const [best] = rankTogether(SPOT, runWith({}), [], 3);
  expect(best!.faults).toEqual([]);
  expect(best!.probability).toBeCloseTo(rank(SPOT, runWith({})).nothingBroken, 12);
});

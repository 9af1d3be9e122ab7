import { expect, test } from "vitest";
import { parseBench } from "../../src/data/bench/bench.ts";
import type { FunctionId } from "../../src/domain/trade/functions.ts";
import { setFaults } from "../../src/sim/physical/faults.ts";
import { must, shippedBench, shippedText } from "../kit/shipped.ts";
import { Differences } from "./kit/differences.ts";
import { Pair } from "./kit/drive.ts";
import { EXERCISES, type ExerciseName } from "./kit/exercises.ts";
import { hastySpot } from "./kit/fixtures.ts";

const level = must(parseBench("level.yaml", shippedText("benches/level.yaml")));

/** How far the part is from where a sound one would be, at most, with the head where the bench's target is. */
const outOfPlace = (fault: string, id: FunctionId, under: ExerciseName, tilt_deg: number): number => {
  const build = hastySpot();
  const pair = new Pair(build, { troubles: setFaults(build, [fault], 2).troubles, seed: 2 });
  pair.shine();
  pair.run(20);
  const tilt = build.parts.find((part) => part.function === "Tilt")!;
  if (tilt.kind !== "travel") throw new Error("tilt travels");
  pair.go("Tilt", (tilt_deg - tilt.from) / (tilt.to - tilt.from), 4);
  const differences = new Differences();
  pair.onFrame = (both) => differences.see(both);
  EXERCISES[under](pair);
  return differences.of(`${id} place`);
};

/** What hangs falls across the beam when the beam lies level, and along it when the head stands on its base. */
test.each([
  {
    fault: "yellow-flag-slack-on-shaft",
    id: "ColorSub_Y",
    under: "flags",
    because: "its weight turns it on its shaft",
  },
  { fault: "prism-spring-gone", id: "Prism1", under: "inserts", because: "nothing holds the arm up in the beam" },
  { fault: "frost-arm-undone", id: "Frost1", under: "inserts", because: "the arm swings on its screw" },
] as const)("$fault shows on the level bench and hardly upright: $because", ({ fault, id, under }) => {
  const onLevel = outOfPlace(fault, id, under, level.target.tilt);
  expect(onLevel).toBeGreaterThan(0.1);
  expect(outOfPlace(fault, id, under, 0)).toBeLessThan(0.75 * onLevel);
});

test("the level bench holds the beam within 30 degrees of level, the usual one may not", () => {
  expect(Math.abs(90 - level.target.tilt)).toBeLessThan(30);
  expect(shippedBench().target).not.toEqual(level.target);
});

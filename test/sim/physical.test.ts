import { expect, test } from "vitest";
import type { FunctionId } from "../../src/domain/trade/functions.ts";
import { FUNCTION_IDS } from "../../src/domain/trade/functions.ts";
import type { FixtureBuild } from "../../src/sim/build.ts";
import { PHYSICAL_FAULTS, setFaults } from "../../src/sim/physical/faults.ts";
import { Differences } from "./kit/differences.ts";
import { Pair } from "./kit/drive.ts";
import { EXERCISES, type ExerciseName } from "./kit/exercises.ts";
import { hastyFraming, hastyRing, hastySpot, hastyWash } from "./kit/fixtures.ts";
import { FAULT_TABLE, type FaultRow } from "./physical.table.ts";

const BUILDS: Readonly<Record<FaultRow["build"], () => FixtureBuild>> = {
  spot: hastySpot,
  wash: hastyWash,
  framing: hastyFraming,
  ring: hastyRing,
};

const compared = (row: FaultRow, exercise: ExerciseName, warmth: number, seed: number): Differences => {
  const build = BUILDS[row.build]();
  const { troubles } = setFaults(build, [row.id], seed);
  const pair = new Pair(build, { troubles, seed, warmth, attitude: row.attitude ?? "standing" });
  pair.shine();
  const differences = new Differences();
  if (exercise !== "homing") pair.run(20);
  pair.onFrame = (both) => differences.see(both);
  EXERCISES[exercise](pair);
  return differences;
};

test.each(FAULT_TABLE)("$id shows as $shows under $under: $because", (row) => {
  const differences = compared(row, row.under, row.warmth ?? 0, 2);
  for (const [key, least] of Object.entries(row.shows)) expect(differences.of(key), key).toBeGreaterThan(least);
  const fault = PHYSICAL_FAULTS.find(({ id }) => id === row.id)!;
  if (row.touches !== "anything") {
    const own: readonly FunctionId[] = [...fault.on, ...(row.touches ?? [])];
    expect(differences.besides(own)).toEqual([]);
  }
});

test.each(FAULT_TABLE.flatMap((row) => (row.hidden ? [{ ...row, hidden: row.hidden }] : [])))(
  "$id shows nothing under $hidden",
  (row) => {
    const differences = compared(row, row.hidden, row.hiddenWarmth ?? 0, 2);
    expect(differences.besides([])).toEqual([]);
    expect(differences.of("phase")).toBe(0);
  },
);

test("the table has every fault, and every fault has its own name and words", () => {
  expect(FAULT_TABLE.map(({ id }) => id).sort()).toEqual(PHYSICAL_FAULTS.map(({ id }) => id).sort());
  expect(new Set(PHYSICAL_FAULTS.map(({ id }) => id)).size).toBe(PHYSICAL_FAULTS.length);
  expect(new Set(PHYSICAL_FAULTS.map(({ words }) => words)).size).toBe(PHYSICAL_FAULTS.length);
});

test("between a third and a half of the faults are kept aside for measuring", () => {
  const aside = PHYSICAL_FAULTS.filter((fault) => fault.aside).length;
  expect(aside / PHYSICAL_FAULTS.length).toBeGreaterThan(0.35);
  expect(aside / PHYSICAL_FAULTS.length).toBeLessThan(0.6);
});

test("a fault sits only on functions that exist", () => {
  for (const { on } of PHYSICAL_FAULTS) for (const id of on) expect(FUNCTION_IDS).toContain(id);
});

test("a fault that needs a function which is not fitted is reported as not applicable, an unknown name as unknown", () => {
  const made = setFaults(hastyWash(), ["gobo-teeth-worn", "lamp-run-out", "no-such-thing", "pan-drive-slack"], 1);
  expect(made.notApplicable).toEqual(["gobo-teeth-worn", "lamp-run-out"]);
  expect(made.unknown).toEqual(["no-such-thing"]);
  expect(made.set.map(({ id }) => id)).toEqual(["pan-drive-slack"]);
});

test("another seed puts a fault in another place", () => {
  const place = (seed: number) => {
    const row = FAULT_TABLE.find(({ id }) => id === "pan-stop-pushed-in")!;
    return compared(row, "axes", 0, seed).of("Pan place");
  };
  expect(place(1)).toBe(place(1));
  expect(new Set([1, 2, 3, 4].map(place)).size).toBe(4);
});

test("neither the scene nor the display ever tells which fault is set", () => {
  for (const { id, words } of PHYSICAL_FAULTS) {
    const build = hastySpot();
    const pair = new Pair(build, { troubles: setFaults(build, [id], 1).troubles });
    pair.shine();
    const told = JSON.stringify([pair.run(10).scene, pair.run(3).scene]);
    expect(told).not.toContain(id);
    expect(told).not.toContain(words);
  }
});

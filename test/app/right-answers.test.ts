import { expect, test } from "vitest";
import { NEVER_SIMULATED, RIGHT_ANSWERS } from "../../src/app/simulated/right-answers.ts";
import { FAULT_IDS } from "../../src/diagnosis/model/knowledge/faults.ts";
import { PHYSICAL_FAULTS } from "../../src/sim/physical/faults.ts";

test("every physical fault has its right answers, and every answer is a fault of the model", () => {
  expect(Object.keys(RIGHT_ANSWERS).toSorted()).toEqual(PHYSICAL_FAULTS.map(({ id }) => id).toSorted());
  const known: readonly string[] = FAULT_IDS;
  for (const answers of Object.values(RIGHT_ANSWERS)) for (const id of answers) expect(known).toContain(id);
});

test("whatever nothing simulates stands on a list with its reason, and nothing else does", () => {
  const simulated = new Set(Object.values(RIGHT_ANSWERS).flat());
  expect(Object.keys(NEVER_SIMULATED)).toEqual(FAULT_IDS.filter((id) => !simulated.has(id)));
});

test("the simulation and the fault model share no name", () => {
  const known: readonly string[] = FAULT_IDS;
  expect(PHYSICAL_FAULTS.map(({ id }) => id).filter((id) => known.includes(id))).toEqual([]);
});

test("about half of the physical faults are kept aside", () => {
  const aside = PHYSICAL_FAULTS.filter((fault) => fault.aside).length;
  expect(Math.abs(aside / PHYSICAL_FAULTS.length - 0.5)).toBeLessThan(0.1);
});

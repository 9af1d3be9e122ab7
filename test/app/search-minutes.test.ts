import { expect, test } from "vitest";
import { minutesUntil, USUAL_ORDER } from "../../src/app/simulated/trial-rates.ts";
import { FAULT_IDS, knownFault } from "../../src/diagnosis/model/knowledge/faults.ts";
import { COVERS } from "../../src/domain/trade/hold-points.ts";
import { inspection } from "../../src/domain/trade/inspections.ts";

test("the usual order names every fault once, what needs no opening first", () => {
  expect(USUAL_ORDER.toSorted()).toEqual(FAULT_IDS.toSorted());
  expect(USUAL_ORDER[0]).toBe("settings-changed");
});

test("a cover is opened once for all that is behind it (worked)", () => {
  const first = inspection("iris-leaves");
  const one = COVERS[first.cover].minutes + first.minutes;
  expect(minutesUntil(["iris-leaf-bent"], ["iris-leaf-bent"])).toBe(one);
  const second = knownFault("frost-warped");
  const [look] = Object.entries(second.found).sort(([, a], [, b]) => b - a);
  const entry = inspection(look![0] as "iris-leaves");
  expect(entry.cover).toBe(first.cover);
  expect(minutesUntil(["iris-leaf-bent", "frost-warped"], ["frost-warped"])).toBe(one + entry.minutes);
});

test("the right fault first costs least", () => {
  const last = USUAL_ORDER.at(-1)!;
  expect(minutesUntil([last, ...USUAL_ORDER], [last])).toBeLessThan(minutesUntil(USUAL_ORDER, [last]));
});

test("an inspection that was made before is paid for, and costs nothing when its fault is reached", () => {
  const { cover, minutes } = inspection("iris-leaves");
  const paid = COVERS[cover].minutes + minutes;
  expect(minutesUntil(["iris-leaf-bent"], ["iris-leaf-bent"], ["iris-leaves"])).toBe(paid);
  expect(minutesUntil([], [], ["iris-leaves", "iris-leaves"])).toBe(paid);
});

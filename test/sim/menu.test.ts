import { expect, test } from "vitest";
import { houseDefaults, slotsUnder } from "../../src/sim/build.ts";
import { spot } from "./kit/spot.ts";

const slotsOf = (id: string, menu: Partial<ReturnType<typeof houseDefaults>>, build = spot()) =>
  slotsUnder({ ...houseDefaults(build), ...menu }, build)[build.parts.findIndex((part) => part.function === id)];

test("with house defaults every part listens to its own slots", () => {
  const build = spot();
  expect(slotsUnder(houseDefaults(build), build)).toEqual(build.parts.map(({ slots }) => slots));
});

test("the other mode has no fine bytes, and everything behind them moves up", () => {
  expect(slotsOf("Pan", { mode: "other" })).toEqual([1]);
  expect(slotsOf("Tilt", { mode: "other" })).toEqual([2]);
  expect(slotsOf("Shutter1", { mode: "other" })).toEqual([3]);
  expect(slotsOf("Zoom", { mode: "other" })).toEqual([17]);
});

test("where there are no fine bytes the other mode has them for pan and tilt", () => {
  const plain = { ...spot(), parts: spot().parts.map((part) => ({ ...part, slots: part.slots.slice(0, 1) })) };
  expect(slotsOf("Pan", { mode: "other" }, plain)).toEqual([1, 2]);
  expect(slotsOf("Tilt", { mode: "other" }, plain)).toEqual([3, 4]);
  expect(slotsOf("Shutter1", { mode: "other" }, plain)).toEqual([5]);
});

test("swapped, pan listens to tilt's slots and tilt to pan's", () => {
  expect(slotsOf("Pan", { swapped: true })).toEqual([3, 4]);
  expect(slotsOf("Tilt", { swapped: true })).toEqual([1, 2]);
});

import { expect, test } from "vitest";
import { changesBetween, withMeasured } from "../../../../src/data/profile/gdtf/profile-from.ts";
import { readProfile } from "../../../../src/data/profile/parse.ts";
import type { ProfileFile } from "../../../../src/data/profile/schema.ts";
import { must } from "../../../kit/shipped.ts";
import { importOf } from "./kit/imported.ts";
import { sampleArchive } from "./kit/sample.ts";

const older: ProfileFile = must(readProfile("older.yaml", must(importOf(sampleArchive(), "Extended")).text)).written;
const { Pan, Tilt, Iris, ...others } = older.functions;
if (!Pan || !Tilt || !("from_deg" in Pan) || !("from_deg" in Tilt) || !Iris)
  throw new Error("the sample has both axes");
const measured: ProfileFile = {
  ...older,
  power_up_s: 31,
  functions: { ...older.functions, Pan: { ...Pan, full_travel_s: 3.1 }, Tilt: { ...Tilt, full_travel_s: 1.9 } },
};
/** The same fixture again, with another range of tilt, without iris. */
const newer: ProfileFile = { ...older, functions: { Pan, Tilt: { ...Tilt, to_deg: 120 }, ...others } };

test("a file that says the same changes nothing, whatever was measured", () => {
  expect(changesBetween(measured, older)).toEqual([]);
  expect(withMeasured(measured, older)).toEqual(measured);
});

test("what a newer file says otherwise is told, a line for each", () => {
  expect(changesBetween(measured, newer)).toEqual(["Tilt: to_deg 120, before 135", "Iris is gone"]);
  expect(changesBetween(newer, { ...older, slots: 30 })).toEqual([
    "30 slots, before 24",
    "Tilt: to_deg 135, before 120",
    "Iris is new",
  ]);
});

test("what was measured stays where the chart stayed; where it changed it is measured again", () => {
  const { power_up_s, functions } = withMeasured(measured, newer);
  expect(power_up_s).toBe(31);
  expect(functions.Pan).toMatchObject({ full_travel_s: 3.1 });
  expect(functions.Tilt).toMatchObject({ to_deg: 120, full_travel_s: 1.6 });
});

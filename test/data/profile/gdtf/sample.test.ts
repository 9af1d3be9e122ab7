import { expect, test } from "vitest";
import { lint } from "../../../../src/data/profile/lint/lint.ts";
import { readProfile } from "../../../../src/data/profile/parse.ts";
import { must } from "../../../kit/shipped.ts";
import { importOf } from "./kit/imported.ts";
import { sampleArchive } from "./kit/sample.ts";

const MODES = ["Basic", "Extended", "Cells"] as const;
const imported = Object.fromEntries(MODES.map((mode) => [mode, must(importOf(sampleArchive(), mode))]));

test.each(MODES)("the profile of the mode %s, as it is written", async (mode) => {
  await expect(imported[mode]?.text).toMatchFileSnapshot(`written/${mode.toLowerCase()}.yaml`);
});

test.each([
  {
    mode: "Basic",
    notes: [
      "Shutter1StrobeRandom, slot 3, 201 to 239: not driven, Limber does not drive it",
      "Color1WheelSpin, slot 5, 128 to 255: not driven, Limber does not drive it",
      "IrisStrobe, slot 7, 192 to 255: not driven, Limber does not drive it",
      "PositionMSpeed, slot 11, 0 to 255: not driven, Limber does not drive it",
    ],
  },
  {
    mode: "Extended",
    notes: [
      "Relations: not read",
      "Shutter1StrobeRandom, slot 7, 201 to 239: not driven, Limber does not drive it",
      "Color1WheelSpin, slots 11, 12, 32896 to 65535: not driven, Limber does not drive it",
      "Gobo1Pos, slot 14, 0 to 255: not driven, holds only while Head_Gobo1 stands at 0 to 127",
    ],
  },
  {
    mode: "Cells",
    notes: [
      "Head_ColorMacro1: not driven, it has no slot",
      "Head_ColorAdd_W: not driven, it has a start address of its own (DMX break 2)",
    ],
  },
])("what of the mode $mode is not driven is told, each with its line", ({ mode, notes }) => {
  expect(imported[mode]?.notes.map(({ message }) => message)).toEqual(notes);
  for (const { place } of imported[mode]?.notes ?? []) expect(place?.text).toContain("<");
});

test.each([
  { mode: "Basic", doubts: ["focus-without-sharp", "lag-missing", "lag-missing", "move-time-missing"] },
  {
    mode: "Extended",
    doubts: ["focus-without-sharp", "lag-missing", "lag-missing", "move-time-missing", "move-time-missing"],
  },
  { mode: "Cells", doubts: ["lag-missing", "lag-missing"] },
])("the profile check of the mode $mode asks only for what no GDTF file says", ({ mode, doubts }) => {
  const found = lint(must(readProfile(`sample-head-${mode.toLowerCase()}.yaml`, imported[mode]?.text ?? "")));
  expect(found.map(({ rule }) => rule).toSorted()).toEqual(doubts);
});

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
      "Shutter1StrobeRandom, slot 3: not driven, an effect that runs by itself",
      "Color1WheelSpin, slot 5: not driven, spins, shakes or scrolls by itself",
      "IrisStrobe, slot 7: not driven, spins, shakes or scrolls by itself",
      "PositionMSpeed, slot 11: not driven, the speed of a movement: the profile's times are measured with it",
    ],
  },
  {
    mode: "Extended",
    notes: [
      "Head_Dimmer scales Head_ColorSub_C: the fixture does that by itself",
      "Shutter1StrobeRandom, slot 7: not driven, an effect that runs by itself",
      "Color1WheelSpin, slots 11, 12: not driven, spins, shakes or scrolls by itself",
      "Gobo1Pos, slot 14: not driven, holds only while Head_Gobo1 stands at 0 to 127",
    ],
  },
  {
    mode: "Cells",
    notes: ["Head_ColorAdd_W: not driven, it has a start address of its own (DMX break 2)"],
  },
])("what of the mode $mode is not driven is told, each with its line", ({ mode, notes }) => {
  expect(imported[mode]?.notes.map(({ message }) => message)).toEqual(notes);
  for (const { place } of imported[mode]?.notes ?? []) expect(place?.text).toContain("<");
});

test.each(MODES)("the profile check takes the mode %s as it was written", (mode) => {
  const written = must(readProfile(`sample-head-${mode.toLowerCase()}.yaml`, imported[mode]?.text ?? ""));
  expect(lint(written)).toEqual([]);
});

test.each([
  { mode: "Basic", driven: 10, held: 1, toMeasure: 11 },
  { mode: "Extended", driven: 23, held: 1, toMeasure: 13 },
  { mode: "Cells", driven: 17, held: 0, toMeasure: 8 },
])("of every slot of the mode $mode it is known what becomes of it", ({ mode, driven, held, toMeasure }) => {
  const { coverage, toMeasure: measured } = imported[mode] ?? must(importOf(sampleArchive(), mode));
  expect(coverage).toMatchObject({ driven, held, slots: driven + held });
  expect(measured).toBe(toMeasure);
});

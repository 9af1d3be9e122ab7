import type { FunctionId } from "../../../../../src/domain/trade/functions.ts";
import type { BuiltBand, FixtureBuild, PartBuild, TravelBuild } from "../../../../../src/sim/build.ts";

/**
 * The three modes of the sample once more, as numbers of the simulated fixture: copied by hand from the numbers of the
 * GDTF text, never from a profile, so that a profile read wrongly puts something in the wrong place.
 */
const travel = (
  id: FunctionId,
  slots: readonly number[],
  from: number,
  to: number,
  more: Partial<TravelBuild> = {},
): PartBuild => ({
  kind: "travel",
  function: id,
  slots,
  from,
  to,
  fullTravel_s: 1,
  acceleration_s: 0.1,
  lag_s: 0,
  encoded: true,
  ...more,
});

/** Levels at which a slot of the wheel begins. */
const wheel = (
  id: FunctionId,
  slots: readonly number[],
  kind: "colour" | "fixed" | "rotating",
  places: readonly (readonly [number, string])[],
): PartBuild => ({
  kind: "wheel",
  function: id,
  slots,
  wheel: kind,
  positions: places.map(([at, is]) => ({ at, is })),
  spins: [],
  step_s: 0.1,
});

const COLOURS = [
  [0, "Open"],
  [20, "Red"],
  [40, "Blue"],
  [60, "Green"],
] as const;
const SHUTTER: readonly BuiltBand[] = [
  { from: 0, to: 31, is: "closed" },
  { from: 32, to: 63, is: "open" },
  { from: 64, to: 200, is: "strobe", from_hz: 0.5, to_hz: 15 },
  { from: 240, to: 255, is: "open" },
];
const control = (slot: number): PartBuild => ({
  kind: "control",
  function: "Control1",
  slots: [slot],
  commands: [
    { is: "lamp-on", at: 135, hold_s: 3, then_s: 0 },
    { is: "reset", at: 210, hold_s: 3, then_s: 5 },
  ],
});

const fixture = (slots: number, parts: readonly PartBuild[]): FixtureBuild => ({
  startAddress: 1,
  slots,
  homing_s: 5,
  source: { kind: "led" },
  parts,
});

export const SIMULATED = {
  Basic: fixture(11, [
    travel("Pan", [1], -270, 270),
    travel("Tilt", [2], 135, -135),
    { kind: "bands", function: "Shutter1", slots: [3], bands: SHUTTER },
    { kind: "light", function: "Dimmer", slots: [4] },
    wheel("Color1", [5], "colour", COLOURS),
    wheel("Gobo1", [6], "fixed", [
      [0, "Open"],
      [10, "Dots"],
      [20, "Bars"],
      [30, "Ring"],
    ]),
    travel("Iris", [7], 100, 5, { raw: [0, 191] }),
    travel("Zoom", [8], 8, 42),
    travel("Focus1", [9], 0, 100),
    control(10),
  ]),
  Extended: fixture(24, [
    travel("Pan", [1, 2], -270, 270),
    travel("Tilt", [3, 4], -135, 135),
    { kind: "light", function: "Dimmer", slots: [5, 6] },
    { kind: "bands", function: "Shutter1", slots: [7], bands: SHUTTER },
    travel("ColorSub_C", [8], 0, 100),
    travel("ColorSub_M", [9], 0, 100),
    travel("ColorSub_Y", [10], 0, 100),
    // Mirrored on two slots (DIN SPEC 15800, table 1): 20/1 is 5140, and the simulated wheel counts 5140 / 256.
    wheel(
      "Color1",
      [11, 12],
      "colour",
      COLOURS.map(([at, is]) => [(at * 257) / 256, is]),
    ),
    wheel("Gobo1", [13], "rotating", [
      [0, "Open"],
      [10, "Dots"],
      [20, "Bars"],
      [30, "Ring"],
      [128, "Dots"],
      [140, "Bars"],
      [150, "Ring"],
    ]),
    // With the wheel from 128 on, its gobos turn: 360 degrees a second are 60 turns a minute.
    {
      kind: "turn",
      function: "Gobo1Pos",
      slots: [14],
      index: undefined,
      rotate: [{ from: 0, to: 255, from_rpm: 60, to_rpm: -60 }],
    },
    {
      kind: "bands",
      function: "Prism1",
      slots: [15],
      bands: [
        { from: 0, to: 63, is: "out" },
        { from: 64, to: 255, is: "in" },
      ],
    },
    {
      kind: "turn",
      function: "Prism1Pos",
      slots: [16],
      index: { from: 0, to: 127, from_deg: 0, to_deg: 360 },
      rotate: [
        { from: 128, to: 189, from_rpm: 40, to_rpm: 1 },
        { from: 194, to: 255, from_rpm: -1, to_rpm: -40 },
      ],
    },
    travel("Frost1", [17], 0, 100),
    travel("Iris", [18, 19], 100, 5),
    travel("Zoom", [20, 21], 8, 42),
    travel("Focus1", [22, 23], 0, 100),
    control(24),
  ]),
  Cells: fixture(17, [
    { kind: "light", function: "ColorAdd_R", slots: [1] },
    { kind: "light", function: "ColorAdd_G", slots: [2] },
    { kind: "light", function: "ColorAdd_B", slots: [3] },
    travel("Pan", [10, 11, 12], -270, 270),
    travel("Tilt", [13, 14, 15, 16], -120, 120),
    { kind: "light", function: "Dimmer", slots: [17] },
  ]),
} as const satisfies Record<string, FixtureBuild>;

import type { FunctionId } from "../../../src/domain/trade/functions.ts";
import type { FixtureBuild, PartBuild } from "../../../src/sim/build.ts";

/** Travel times of pan and tilt are common practice for a large spot (BENCH figures); the rest likewise, no source. */
const travel = (
  id: FunctionId,
  slots: readonly number[],
  [from, to]: readonly [number, number],
  fullTravel_s: number,
  more: { readonly encoded?: boolean; readonly acceleration_s?: number; readonly lag_s?: number } = {},
): PartBuild => ({
  kind: "travel",
  function: id,
  slots,
  from,
  to,
  fullTravel_s,
  acceleration_s: more.acceleration_s ?? 0.1,
  lag_s: more.lag_s ?? 0.05,
  encoded: more.encoded ?? false,
});

const places = (count: number) =>
  Array.from({ length: count }, (_, n) => ({ at: n * 12, is: n === 0 ? "open" : `item ${n}` }));
const spins = [{ from: 200, to: 255, from_rpm: 2, to_rpm: 60 }];
const leaf = (id: FunctionId, slot: number): PartBuild => ({
  kind: "bands",
  function: id,
  slots: [slot],
  bands: [
    { from: 0, to: 127, is: "out" },
    { from: 128, to: 255, is: "in" },
  ],
});
const turner = (id: FunctionId, slot: number): PartBuild => ({
  kind: "turn",
  function: id,
  slots: [slot],
  index: { from: 0, to: 127, from_deg: 0, to_deg: 360 },
  rotate: [
    { from: 128, to: 190, from_rpm: 60, to_rpm: 1 },
    { from: 194, to: 255, from_rpm: -1, to_rpm: -60 },
  ],
});

/** A spot as a test needs it, 28 slots from the given address: everything a fault can sit on except emitters and blades. */
export const spot = (startAddress = 1): FixtureBuild => ({
  startAddress,
  slots: 28,
  homing_s: 30,
  source: { kind: "lamp", strikeDelay_s: 4, warmUp_s: 60, restrike_s: 300 },
  parts: [
    travel("Pan", [1, 2], [-270, 270], 2.6, { encoded: true, acceleration_s: 0.4, lag_s: 0.3 }),
    travel("Tilt", [3, 4], [-135, 135], 1.6, { encoded: true, acceleration_s: 0.35, lag_s: 0.3 }),
    {
      kind: "bands",
      function: "Shutter1",
      slots: [5],
      bands: [
        { from: 0, to: 31, is: "closed" },
        { from: 32, to: 63, is: "open" },
        { from: 64, to: 200, is: "strobe", from_hz: 0.5, to_hz: 15 },
        { from: 201, to: 255, is: "open" },
      ],
    },
    { kind: "light", function: "Dimmer", slots: [6] },
    travel("ColorSub_C", [7], [0, 100], 0.5),
    travel("ColorSub_M", [8], [0, 100], 0.5),
    travel("ColorSub_Y", [9], [0, 100], 0.5),
    travel("CTO", [10], [0, 100], 0.6),
    { kind: "wheel", function: "Color1", slots: [11], wheel: "colour", positions: places(8), spins, step_s: 0.25 },
    { kind: "wheel", function: "Gobo2", slots: [12], wheel: "fixed", positions: places(8), spins, step_s: 0.25 },
    { kind: "wheel", function: "Gobo1", slots: [13], wheel: "rotating", positions: places(7), spins: [], step_s: 0.3 },
    turner("Gobo1Pos", 14),
    leaf("Prism1", 15),
    turner("Prism1Pos", 16),
    leaf("Frost1", 17),
    travel("Iris", [18], [100, 0], 0.5),
    travel("Zoom", [19, 20], [8, 45], 1.0),
    travel("Focus1", [21, 22], [0, 100], 1.2),
    {
      kind: "wheel",
      function: "AnimationWheel1",
      slots: [23],
      wheel: "effect",
      positions: places(2),
      spins,
      step_s: 0.4,
    },
    {
      kind: "control",
      function: "Control1",
      slots: [26],
      commands: [
        { is: "reset", at: 210, hold_s: 5, then_s: 30 },
        { is: "lamp-on", at: 40, hold_s: 3, then_s: 0 },
        { is: "lamp-off", at: 60, hold_s: 3, then_s: 0 },
      ],
    },
  ],
});

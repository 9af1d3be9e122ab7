import type { FixtureBuild, PartBuild } from "../../../src/sim/build.ts";
import { spot } from "./spot.ts";

/** The spot with the waiting taken out: homes in 10 s, strikes at once, is warm in a second. For tests of what comes after. */
export const hastySpot = (): FixtureBuild => ({
  ...spot(),
  homing_s: 10,
  source: { kind: "lamp", strikeDelay_s: 0.5, warmUp_s: 1, restrike_s: 20 },
});

const emitter = (id: "ColorAdd_R" | "ColorAdd_G" | "ColorAdd_B" | "ColorAdd_W", slot: number): PartBuild => ({
  kind: "light",
  function: id,
  slots: [slot],
});

/** A wash with separate emitters instead of flags, wheels and lamp. */
export const hastyWash = (): FixtureBuild => ({
  ...hastySpot(),
  source: { kind: "led" },
  parts: [
    ...hastySpot().parts.filter(({ function: id }) => /Pan|Tilt|Dimmer|Shutter1|Zoom|Control1/.test(id)),
    emitter("ColorAdd_R", 7),
    emitter("ColorAdd_G", 8),
    emitter("ColorAdd_B", 9),
    emitter("ColorAdd_W", 10),
  ],
});

/** A framing fixture: two of its blades are enough. */
export const hastyFraming = (): FixtureBuild => ({
  ...hastySpot(),
  parts: [
    ...hastySpot().parts.filter(({ function: id }) => /Pan|Tilt|Dimmer|Shutter1|Zoom|Focus1|Control1/.test(id)),
    ...(["Blade1A", "Blade3A"] as const).map(
      (id, n): PartBuild => ({
        kind: "travel",
        function: id,
        slots: [7 + n],
        from: 0,
        to: 100,
        fullTravel_s: 0.5,
        acceleration_s: 0.1,
        lag_s: 0.05,
        encoded: false,
      }),
    ),
  ],
});

/** The same with the ring that turns its blades. */
export const hastyRing = (): FixtureBuild => ({
  ...hastyFraming(),
  parts: [
    ...hastyFraming().parts,
    {
      kind: "travel",
      function: "ShaperRot",
      slots: [12],
      from: -60,
      to: 60,
      fullTravel_s: 0.9,
      acceleration_s: 0.1,
      lag_s: 0.05,
      encoded: false,
    },
  ],
});

import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { WheelKind } from "../../../domain/trade/mechanisms.ts";
import type { Seconds } from "../../../domain/units.ts";

/** What a function usually looks like in a chart, and usual numbers for it (starter values, judgement). */
export type Shape =
  | {
      readonly kind: "degrees";
      readonly ends: readonly [number, number];
      readonly time: Seconds;
      readonly lag: Seconds | undefined;
    }
  | { readonly kind: "percent"; readonly ends: readonly [number, number]; readonly time: Seconds }
  /** Shines at once: nothing travels. */
  | { readonly kind: "emitter" }
  | { readonly kind: "bands"; readonly bands: readonly string[]; readonly move: Seconds | undefined }
  | { readonly kind: "wheel"; readonly wheel: WheelKind; readonly step: Seconds }
  | {
      readonly kind: "commands";
      readonly commands: readonly ("reset" | "lamp-on" | "lamp-off" | "fans-low" | "fans-full")[];
    };

const percent = (time: Seconds): Shape => ({ kind: "percent", ends: [0, 100], time });
const TURN: Shape = {
  kind: "bands",
  bands: ["127 index 0 360", "189 turn 60 1", "193 stop", "255 turn -1 -60"],
  move: undefined,
};
const inOut = (move: Seconds): Shape => ({ kind: "bands", bands: ["63 out", "255 in"], move });
const EMITTER: Shape = { kind: "emitter" };

export const SHAPES: Readonly<Record<FunctionId, Shape>> = {
  Pan: { kind: "degrees", ends: [-270, 270], time: 2.6, lag: 0.3 },
  Tilt: { kind: "degrees", ends: [-135, 135], time: 1.6, lag: 0.3 },
  Dimmer: percent(0.3),
  Shutter1: {
    kind: "bands",
    bands: ["31 closed", "63 open", "200 strobe 0.5 15", "255 open"],
    move: 0.1,
  },
  Color1: { kind: "wheel", wheel: "colour", step: 0.12 },
  Color2: { kind: "wheel", wheel: "colour", step: 0.12 },
  ColorSub_C: percent(0.4),
  ColorSub_M: percent(0.4),
  ColorSub_Y: percent(0.4),
  CTO: percent(0.4),
  ColorAdd_R: EMITTER,
  ColorAdd_G: EMITTER,
  ColorAdd_B: EMITTER,
  ColorAdd_W: EMITTER,
  Gobo1: { kind: "wheel", wheel: "rotating", step: 0.15 },
  Gobo1Pos: TURN,
  Gobo2: { kind: "wheel", wheel: "fixed", step: 0.15 },
  Gobo2Pos: TURN,
  AnimationWheel1: { kind: "wheel", wheel: "effect", step: 0.3 },
  Prism1: inOut(0.6),
  Prism1Pos: TURN,
  Frost1: percent(0.6),
  Iris: { kind: "percent", ends: [100, 5], time: 0.4 },
  Focus1: percent(1.2),
  Zoom: { kind: "degrees", ends: [8, 42], time: 1.2, lag: undefined },
  Blade1A: percent(0.4),
  Blade1B: percent(0.4),
  Blade2A: percent(0.4),
  Blade2B: percent(0.4),
  Blade3A: percent(0.4),
  Blade3B: percent(0.4),
  Blade4A: percent(0.4),
  Blade4B: percent(0.4),
  ShaperRot: { kind: "degrees", ends: [-60, 60], time: 0.9, lag: undefined },
  Control1: { kind: "commands", commands: ["reset", "lamp-on"] },
  LampControl: { kind: "commands", commands: ["lamp-on", "lamp-off"] },
  Fans: { kind: "commands", commands: ["fans-low", "fans-full"] },
};

import { type FunctionId, isAxisFunction } from "../domain/trade/functions.ts";
import type { WheelKind } from "../domain/trade/mechanisms.ts";
import type { Degrees, Hertz, Level, Seconds } from "../domain/units.ts";

/** Plain numbers from which a simulated fixture is built; it knows nothing of the file they came from. */
export interface FixtureBuild {
  /** Where the fixture sits on its DMX line, counted from 1. */
  readonly startAddress: number;
  /** How many slots it takes. */
  readonly slots: number;
  /** From mains on to hearing DMX. */
  readonly homing_s: Seconds;
  readonly source: SourceBuild;
  readonly parts: readonly PartBuild[];
}

/** What makes the light. A lamp strikes after homing and a delay, warms up, and once out must cool before it strikes again. */
export type SourceBuild =
  | { readonly kind: "lamp"; readonly strikeDelay_s: Seconds; readonly warmUp_s: Seconds; readonly restrike_s: Seconds }
  | { readonly kind: "led" };

export type PartBuild = TravelBuild | WheelBuild | TurnBuild | BandsBuild | LightBuild | ControlBuild;

interface Wired {
  readonly function: FunctionId;
  /** Counted from 1 within the fixture, coarse first, one to four bytes. */
  readonly slots: readonly number[];
}

/** Anything that travels between two ends: pan, tilt, flags, iris, zoom, focus, blades. */
export interface TravelBuild extends Wired {
  readonly kind: "travel";
  /** In physical units (degrees, percent ...) at raw 0 and at the highest raw value; may run backwards. */
  readonly from: number;
  readonly to: number;
  /** The raw values at the two ends, where the slots do something else beyond them; else all of them. */
  readonly raw?: readonly [number, number];
  /** From end to end at full speed, speeding up and slowing down included, lag not. */
  readonly fullTravel_s: Seconds;
  /** From standing to full speed. */
  readonly acceleration_s: Seconds;
  /** Between a frame and the first movement; tracking a moving demand costs speed / (2 x acceleration) more. */
  readonly lag_s: Seconds;
  /** An encoded axis knows where it is and corrects itself; an open-loop one loses steps for good. */
  readonly encoded: boolean;
}

/** A wheel with places that stand in the beam; the last place whose level is not above the demand is meant. */
export interface WheelBuild extends Wired {
  readonly kind: "wheel";
  readonly wheel: WheelKind;
  readonly positions: readonly { readonly at: Level; readonly is: string }[];
  /** Levels at which the whole wheel turns on and on. */
  readonly spins: readonly SpinBand[];
  /** From one place to the next. */
  readonly step_s: Seconds;
}

export interface SpinBand {
  readonly from: Level;
  readonly to: Level;
  readonly from_rpm: number;
  readonly to_rpm: number;
}

/** A gobo, prism or effect that can be put at an angle or turned. */
export interface TurnBuild extends Wired {
  readonly kind: "turn";
  readonly index:
    | { readonly from: Level; readonly to: Level; readonly from_deg: Degrees; readonly to_deg: Degrees }
    | undefined;
  readonly rotate: readonly SpinBand[];
}

/** A shutter, prism or frost: one leaf that is in the beam or out of it, or beats. */
export interface BandsBuild extends Wired {
  readonly kind: "bands";
  readonly bands: readonly BuiltBand[];
}

export type BuiltBand =
  | { readonly from: Level; readonly to: Level; readonly is: "closed" | "open" | "in" | "out" }
  | { readonly from: Level; readonly to: Level; readonly is: "strobe"; readonly from_hz: Hertz; readonly to_hz: Hertz };

/** A dimmer, or one emitter of a fixture that mixes its colours from several. */
export interface LightBuild extends Wired {
  readonly kind: "light";
}

export interface ControlBuild extends Wired {
  readonly kind: "control";
  readonly commands: readonly ControlCommand[];
}

/** A command is taken when the slot has been at the level for `hold_s`; a reset keeps the fixture deaf for `then_s`. */
export interface ControlCommand {
  readonly is: "reset" | "lamp-on" | "lamp-off" | "other";
  readonly at: Level;
  readonly hold_s: Seconds;
  readonly then_s: Seconds;
}

/** The settings in the fixture's own menu, as the last user left them. */
export interface Menu {
  readonly address: number;
  /** The other mode has no fine bytes where this one has them, and has them for pan and tilt where this one has none. */
  readonly mode: "own" | "other";
  readonly panInverted: boolean;
  readonly tiltInverted: boolean;
  readonly swapped: boolean;
  /** Share of pan and tilt that is used. */
  readonly range: number;
  readonly onDataLoss: "hold" | "dark";
}

/** The settings in the menu of a fixture as its shop wants them. */
export const houseDefaults = (build: FixtureBuild): Menu => ({
  address: build.startAddress,
  mode: "own",
  panInverted: false,
  tiltInverted: false,
  swapped: false,
  range: 1,
  onDataLoss: "hold",
});

/** Which slots each part listens to under these settings, in the order of the build's parts. */
export const slotsUnder = (menu: Menu, build: FixtureBuild): readonly (readonly number[])[] => {
  const mode = menu.mode === "own" ? build.parts.map((part) => part.slots) : otherMode(build.parts);
  if (!menu.swapped) return mode;
  const pan = build.parts.findIndex((part) => part.function === "Pan");
  const tilt = build.parts.findIndex((part) => part.function === "Tilt");
  return mode.map((slots, n) => (n === pan ? (mode[tilt] ?? slots) : n === tilt ? (mode[pan] ?? slots) : slots));
};

/** The same functions in the same order, counted through with other numbers of bytes. */
const otherMode = (parts: readonly PartBuild[]): readonly (readonly number[])[] => {
  const fine = parts.some((part) => part.slots.length > 1);
  const bytes = (part: PartBuild) => (!fine && isAxisFunction(part.function) ? 2 : 1);
  const inOrder = [...parts].sort((a, b) => (a.slots[0] ?? 0) - (b.slots[0] ?? 0));
  const first = (part: PartBuild) =>
    1 + inOrder.slice(0, inOrder.indexOf(part)).reduce((count, before) => count + bytes(before), 0);
  return parts.map((part) => Array.from({ length: bytes(part) }, (_, n) => first(part) + n));
};

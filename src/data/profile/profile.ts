import type { FunctionId } from "../../domain/trade/functions.ts";
import { type LightSourceId, type MechanismId, mechanismOf, type WheelKind } from "../../domain/trade/mechanisms.ts";
import type { Amps, Level, Milliamps, Quantity, Seconds, Volts } from "../../domain/units.ts";
import type { BAND_MEANINGS } from "./schema.ts";

/** One kind of fixture in one mode, read and checked. */
export interface Profile {
  readonly name: string;
  /** The kind of fixture this is a mode of, where the file says so. */
  readonly fixture: string | undefined;
  readonly title: string;
  readonly slots: number;
  readonly powerUp: Seconds;
  readonly lamp: {
    readonly kind: LightSourceId;
    readonly strike: Seconds;
    readonly warm: Seconds;
    readonly restrike: Seconds;
  };
  /** What it draws from the mains; undefined where its file does not say. */
  readonly power: Power | undefined;
  /** What it loads its DMX line with, of the 32 that a line carries. */
  readonly unitLoads: number;
  readonly functions: ReadonlyMap<FunctionId, FunctionSpec>;
  /** Slots of no function, each kept at one value. */
  readonly held: readonly Held[];
  /** The dark, still state: a raw value for every function. */
  readonly rest: ReadonlyMap<FunctionId, Raw>;
}

/** What a fixture draws from the mains. Never more while running than while starting. */
export interface Power {
  /** The mains voltage that the currents were read at. */
  readonly volts: Volts;
  readonly running: Amps;
  readonly starting: Amps;
  /** How long the start lasts. */
  readonly start: Seconds;
  /** In the protective earth, with nothing wrong. */
  readonly leakage: Milliamps;
}

/** A whole number over all slots of a function: 0 to 255 for one slot, to 65535 for two. */
export type Raw = Quantity<"raw">;
/** Of a function with one slot: the level of that slot, which is its raw value too. */
type RawLevel = Raw & Level;
export type BandMeaning = (typeof BAND_MEANINGS)[number];

interface Held {
  readonly slots: readonly number[];
  readonly at: Raw;
}

export type FunctionSpec = Travel | Banded | Wheel | Commands;

/** Moves between two ends. Values are degrees or percent; `from` may be the larger. Beyond `low` and `high` the slots do something else. */
export interface Travel {
  readonly kind: "travel";
  readonly slots: readonly number[];
  readonly unit: "deg" | "pct";
  readonly from: number;
  readonly to: number;
  /** The raw values at `from` and at `to`. */
  readonly low: Raw;
  readonly high: Raw;
  readonly fullTravel: Seconds;
  readonly lag: Seconds;
  readonly sharp: number | undefined;
  /** Slots of further cells that are driven alike: one dead among them is seen at once. */
  readonly cells: readonly (readonly number[])[];
}

export interface Band {
  readonly from: RawLevel;
  readonly to: RawLevel;
  readonly is: BandMeaning;
  /** At `from` and at `to`: flashes in Hz, an angle in degrees or a speed in turns a minute, as the meaning wants. */
  readonly range: readonly [number, number] | undefined;
}
export interface Banded {
  readonly kind: "banded";
  readonly slots: readonly number[];
  readonly bands: readonly Band[];
  readonly move: Seconds;
}

export interface Wheel {
  readonly kind: "wheel";
  readonly slots: readonly number[];
  readonly wheel: WheelKind;
  readonly positions: readonly { readonly at: RawLevel; readonly is: string }[];
  readonly step: Seconds;
}

export interface Command {
  readonly is: "reset" | "lamp-on" | "lamp-off" | "fans-low" | "fans-full";
  readonly at: RawLevel;
  readonly hold: Seconds;
  readonly deaf: Seconds;
}
export interface Commands {
  readonly kind: "commands";
  readonly slots: readonly number[];
  readonly rest: RawLevel;
  readonly commands: readonly Command[];
}

/** Every run of slots that carries the function's value: its own, and those of its further cells. */
export const cellsOf = (spec: FunctionSpec): readonly (readonly number[])[] =>
  spec.kind === "travel" ? [spec.slots, ...spec.cells] : [spec.slots];

/** The highest raw value of a function: 255, 65535, ... */
export const fullRaw = ({ slots }: Pick<FunctionSpec, "slots">): Raw => 256 ** slots.length - 1;

/** The lowest and the highest raw value that a function may be driven to. */
export const rawEnds = (spec: FunctionSpec): readonly [Raw, Raw] =>
  spec.kind === "travel" ? [spec.low, spec.high] : [0, fullRaw(spec)];

/** The raw value at a share of the way from the lowest to the highest, 0 to 1. */
export const rawOfShare = (spec: FunctionSpec, share: number): Raw => between(rawEnds(spec), share);

const between = ([low, high]: readonly [Raw, Raw], share: number): Raw =>
  Math.round(low + Math.min(1, Math.max(0, share)) * (high - low));

/** What of a travel says which raw value stands where. */
export type Scale = Pick<Travel, "from" | "to" | "low" | "high">;

/** The raw value nearest to a physical one, inside the travel. `value` is in the travel's unit: degrees or per cent. */
export const rawOf = ({ from, to, low, high }: Scale, value: number): Raw =>
  between([low, high], (value - from) / (to - from));

/**
 * Where the fixture should stand at a raw value, in the travel's unit: degrees or per cent. GDTF: 16-bit pan at
 * 32767 is -0.00412 degrees of -270 to 270.
 */
export const physicalOf = (travel: Scale, raw: Raw): number =>
  travel.from + ((travel.to - travel.from) * (raw - travel.low)) / (travel.high - travel.low);

/** The travel of a function; undefined where it has none. */
export const travelOf = (profile: Profile, id: FunctionId): Travel | undefined => {
  const spec = profile.functions.get(id);
  return spec?.kind === "travel" ? spec : undefined;
};

/** The first band of a function with this meaning; undefined where it has none. */
export const bandOf = (banded: Banded, is: BandMeaning): Band | undefined =>
  banded.bands.find((band) => band.is === is);

/**
 * What puts the light out, the quickest first: a shutter that can be closed and opened, else a dimmer, else every emitter. None
 * of them is no way to go dark. At rest each of them stands where there is no light.
 */
export const darkenedBy = (functions: Profile["functions"]): readonly FunctionId[] => {
  const shutter = functions.get("Shutter1");
  if (shutter?.kind === "banded" && bandOf(shutter, "closed") && bandOf(shutter, "open")) return ["Shutter1"];
  if (functions.get("Dimmer")?.kind === "travel") return ["Dimmer"];
  return [...functions.keys()].filter((id) => id.startsWith("ColorAdd_") && functions.get(id)?.kind === "travel");
};

/** A raw value safely inside a band. */
export const insideBand = (band: Band): Raw => Math.floor((band.from + band.to) / 2);

/** What the fixture has, and where its moving parts sit. */
export const fittedOf = (
  profile: Profile,
): readonly { readonly function: FunctionId; readonly mechanism: MechanismId }[] =>
  [...profile.functions].map(([id, spec]) => ({
    function: id,
    mechanism: mechanismOf(id, spec.kind === "wheel" ? spec.wheel : wheelUnder(profile, id)),
  }));

/** A gobo rotation sits on the wheel it turns. */
const wheelUnder = (profile: Profile, id: FunctionId): WheelKind | undefined => {
  if (id !== "Gobo1Pos" && id !== "Gobo2Pos") return undefined;
  const carrier = profile.functions.get(id === "Gobo1Pos" ? "Gobo1" : "Gobo2");
  return carrier?.kind === "wheel" ? carrier.wheel : undefined;
};

import type { Problem } from "../../../domain/problem/problem.ts";
import type { Seconds } from "../../../domain/units.ts";
import type { Raw } from "../profile.ts";
import type { Element } from "./element.ts";

/** What Limber reads of a GDTF description (DIN SPEC 15800). `at` leads back to the text. */
export interface FixtureType {
  readonly name: string;
  /** Kilograms; undefined where the file does not say. */
  readonly weight: number | undefined;
  readonly wheels: ReadonlyMap<string, readonly WheelSlot[]>;
  /** Read one by one: what cannot be read in one mode does not close the others. */
  readonly modes: readonly Element[];
  readonly geometries: readonly Element[];
  /** What was assumed in reading all this. */
  readonly notes: readonly Problem[];
}

export type LightSource = "discharge" | "led" | "halogen" | "unknown";

export interface WheelSlot {
  readonly name: string;
  /** 0: a flat one, no prism. */
  readonly facets: number;
}

export interface Mode {
  readonly name: string;
  readonly source: LightSource;
  readonly channels: readonly Channel[];
  /** The DMXBreak that Limber drives, and how many slots it takes: the lowest there is, for one start address. */
  readonly break: number;
  readonly slots: number;
  readonly at: number;
  /** What was assumed, or left out, in reading. */
  readonly notes: readonly Problem[];
}

export interface Channel {
  /** As ModeMaster names it: geometry, "_", attribute of the first logical channel. */
  readonly name: string;
  /** 0 for the first; more for the repeats of a referenced geometry. */
  readonly copy: number;
  readonly break: number;
  /** Counted from 1 within the break, coarse first; none for a virtual channel. */
  readonly slots: readonly number[];
  readonly initial: Raw;
  readonly functions: readonly ChannelFunction[];
  readonly at: number;
}

/** One stretch of a channel. Physical values run from the first to the second and may fall. */
export interface ChannelFunction {
  readonly name: string;
  readonly attribute: string;
  readonly from: Raw;
  readonly to: Raw;
  readonly physical: readonly [number, number];
  /** False where neither end is written, or both are the standard's default of 0 and 1: then nobody knows. */
  readonly measured: boolean;
  readonly initial: Raw | undefined;
  /** Over the whole span; 0 is unknown. */
  readonly fade: Seconds;
  readonly acceleration: Seconds;
  readonly wheel: string | undefined;
  readonly condition: MasterCondition | undefined;
  readonly sets: readonly ChannelSet[];
  readonly at: number;
}

/** Holds only while the master channel stands between the two. */
export interface MasterCondition {
  readonly master: string;
  readonly from: Raw;
  readonly to: Raw;
}

export interface ChannelSet {
  readonly name: string;
  readonly from: Raw;
  readonly to: Raw;
  readonly physical: readonly [number, number];
  /** Counted from 1; undefined for none. */
  readonly wheelSlot: number | undefined;
  readonly at: number;
}

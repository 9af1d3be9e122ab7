import type { Problem } from "../../domain/problem/problem.ts";
import type { Amps, Milliamps, Volts } from "../../domain/units.ts";
import type { Profile } from "../profile/profile.ts";

/** The fixtures plugged up together: where each one stands, which DMX line it hears, which circuit feeds it. */
export interface Rack {
  readonly name: string;
  readonly title: string;
  /** As listed in the file. */
  readonly fixtures: readonly RackFixture[];
  readonly lines: readonly RackLine[];
  readonly circuits: readonly Circuit[];
  readonly groupSizes: GroupSizes;
}

export interface RackFixture {
  readonly serial: string;
  /** What it answers to over RDM, where the file says so. */
  readonly uid: string | undefined;
  readonly profile: Profile;
  readonly place: RackPlace;
  /** Undefined until it was given one. */
  readonly start: StartAddress | undefined;
  /** It shares its address on purpose with others of its kind and mode: all of them do the same, and the odd one shows. */
  readonly ganged: boolean;
  /** The output of a splitter that feeds it; undefined: straight on the line. */
  readonly branch: string | undefined;
  /** The name of the circuit that feeds it; undefined: nobody said. */
  readonly circuit: string | undefined;
}

/** Words that a person finds the fixture by: "top shelf", "3rd from the left". */
export interface RackPlace {
  readonly shelf: string;
  readonly position: string;
}

export interface StartAddress {
  readonly universe: number;
  /** 1 to 512. */
  readonly slot: number;
}

/** A fixture that has an address. */
export type Addressed = RackFixture & { readonly start: StartAddress };
/** Whether the fixture has an address. */
export const hasStart = (fixture: RackFixture): fixture is Addressed => fixture.start !== undefined;

/** What a universe goes out on. */
export interface RackLine {
  readonly universe: number;
  /** The output as --output takes it: "serial:/dev/ttyUSB0", "sacn:2", "sim". */
  readonly output: string;
  /** Where packets are sent, for outputs on a network. */
  readonly to: string | undefined;
}

export interface Circuit {
  readonly name: string;
  /** What its breaker or fuse is rated for. */
  readonly rating: Amps;
  readonly volts: Volts;
  /** The share of the rating that may flow for hours. */
  readonly continuous: number;
  /** The RCD that watches it, perhaps together with other circuits. */
  readonly rcd: Rcd | undefined;
}

export interface Rcd {
  readonly name: string;
  /** The most leakage that all fixtures behind it may add up to, well below what trips it. */
  readonly budget: Milliamps;
}

/** How many fixtures a person can watch at once. */
export interface GroupSizes {
  /** Movement and colour. */
  readonly broad: GroupSize;
  /** Gobos, focus and other fine things. */
  readonly fine: GroupSize;
}
export interface GroupSize {
  readonly usual: number;
  /** How many of one kind are watched together where that saves a whole group: what is left over would take as many minutes as a full one. */
  readonly most: number;
}

/** A place in the rack in words: "top shelf, 3rd from the left". */
export const placeInWords = ({ shelf, position }: RackPlace): string => `${shelf}, ${position}`;

/** A start address in words: "universe 2, address 145", or that there is none. */
export const startInWords = (start: StartAddress | undefined): string =>
  start ? `universe ${start.universe}, address ${start.slot}` : "no address yet";

/** DMX512 has 512 slots (ANSI E1.11). */
export const SLOTS = 512;

/** The last slot that a fixture uses, from 1; above 512 where it does not fit on its universe. */
export const lastSlot = ({ profile, start }: Addressed): number => start.slot + profile.slots - 1;

/** Whether one hears a slot of the other. */
export const overlap = (one: Addressed, other: Addressed): boolean =>
  one.start.universe === other.start.universe && one.start.slot <= lastSlot(other) && other.start.slot <= lastSlot(one);

/** Whether both stand at one address and say that they mean to. */
export const ganged = (one: Addressed, other: Addressed): boolean =>
  one.ganged && other.ganged && one.start.universe === other.start.universe && one.start.slot === other.start.slot;

/** Whether sharing an address is sound: one kind, one mode. */
export const isSameMode = (one: Addressed, other: Addressed): boolean => one.profile.name === other.profile.name;

/** Says what is wrong at one key of a fixture. */
export type AtFixture = (
  fixture: RackFixture,
  key: string,
  words: { readonly message: string; readonly hint?: string | undefined },
) => Problem;

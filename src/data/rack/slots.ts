import type { Addressed } from "./rack.ts";

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
export const alike = (one: Addressed, other: Addressed): boolean => one.profile.name === other.profile.name;

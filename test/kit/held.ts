import type { Profile } from "../../src/data/profile/profile.ts";

/** The functions whose slots may change when everything goes dark: what lets light out, and commands that are let go. */
const LIGHT: readonly string[] = ["Shutter1", "Dimmer", "Control1", "LampControl", "Fans"];

/** Slots, from 0, that a stop may change, read from the profile alone. */
const lightSlots = (profile: Profile): ReadonlySet<number> =>
  new Set(
    [...profile.functions].flatMap(([id, { slots }]) => (LIGHT.includes(id) ? slots.map((slot) => slot - 1) : [])),
  );

/** Slots, from 0, in which two frames of a fixture differ although only its light went out. */
export const movedBetween = (
  profile: Profile,
  before: ArrayLike<number> | undefined,
  after: ArrayLike<number> | undefined,
): readonly number[] => {
  const light = lightSlots(profile);
  return Array.from({ length: profile.slots }, (_, at) => at).filter(
    (at) => !light.has(at) && before?.[at] !== after?.[at],
  );
};

/** True when a frame lets no light out: the shutter stands in its closed band, or there is none and the dimmer is at nothing. */
export const isDark = (profile: Profile, slots: ArrayLike<number> | undefined): boolean => {
  const level = (id: "Shutter1" | "Dimmer") => slots?.[(profile.functions.get(id)?.slots[0] ?? 0) - 1] ?? -1;
  const shutter = profile.functions.get("Shutter1");
  const closed = shutter?.kind === "banded" ? shutter.bands.find(({ is }) => is === "closed") : undefined;
  return closed ? level("Shutter1") >= closed.from && level("Shutter1") <= closed.to : level("Dimmer") === 0;
};

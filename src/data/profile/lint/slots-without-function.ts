import type { ReadProfile } from "../parse.ts";
import { cellsOf } from "../profile.ts";
import type { ProfileFinding, ProfileRule } from "./rule.ts";

/** Slots of the mode that no function of the profile has. */
export const slotsWithoutFunction: ProfileRule = {
  name: "slots-without-function",
  why: "What Limber is not told about it sends as 0, and on some fixtures 0 is a macro or a slow mode.",
  find: (read) => stretches(freeSlots(read)).map((stretch) => finding(read, stretch)),
};

type Stretch = readonly [first: number, last: number];

const freeSlots = ({ profile, written }: ReadProfile): readonly number[] => {
  const moved = [...profile.functions.values()].flatMap((spec) => cellsOf(spec).flat());
  const used = new Set([...moved, ...profile.held.flatMap(({ slots }) => slots)]);
  return Array.from({ length: written.slots }, (_, index) => index + 1).filter((slot) => !used.has(slot));
};

const stretches = (free: readonly number[]): readonly Stretch[] => {
  const firsts = free.filter((slot) => !free.includes(slot - 1));
  return firsts.map((first) => [first, free.find((slot) => slot >= first && !free.includes(slot + 1)) ?? first]);
};

const finding = ({ profile }: ReadProfile, [first, last]: Stretch): ProfileFinding => {
  const before = [...profile.functions].find(([, spec]) =>
    cellsOf(spec)
      .flat()
      .includes(first - 1),
  );
  const alone =
    first === last && before?.[1].kind === "travel" && before[1].slots.length === 1 && before[1].cells.length === 0;
  const coarse = alone ? before[0] : undefined;
  return {
    path: coarse ? ["functions", coarse, "slots"] : ["slots"],
    message: first === last ? `slot ${first} has no function` : `slots ${first} to ${last} have no function`,
    instead:
      coarse === undefined
        ? "a function for each, held: with the value it wants, or allow: { slots-without-function: what the chart has there }"
        : `slots: [${first - 1}, ${first}] if the chart calls slot ${first} fine, else a function of its own`,
  };
};

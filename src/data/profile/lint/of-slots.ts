import type { ReadProfile } from "../parse.ts";
import { cellsOf } from "../profile.ts";
import type { ProfileFinding, ProfileRule } from "./rule.ts";

/** A fine slot that comes before its coarse one. */
export const fineSlotFirst: ProfileRule = {
  name: "fine-slot-first",
  why: "With the fine slot taken for the coarse one the function trembles or jumps instead of travelling.",
  find: ({ profile }) =>
    [...profile.functions].flatMap(([id, { slots }]) =>
      slots.some((slot, index) => slot < (slots[index - 1] ?? 0))
        ? [
            {
              path: ["functions", id, "slots"],
              message: "a fine slot stands before its coarse one",
              instead: `coarse first: [${[...slots].sort((a, b) => a - b).join(", ")}]`,
            },
          ]
        : [],
    ),
};

/** Charts put a fine slot beside its coarse one, or pan and tilt first and their fine slots after: never far away. */
const FARTHEST = 3;

/** A fine slot far from its coarse one. */
export const fineSlotFar: ProfileRule = {
  name: "fine-slot-far",
  why: "A wrong fine slot moves something else a little whenever this function moves.",
  find: ({ profile }) =>
    [...profile.functions].flatMap(([id, { slots }]) =>
      slots.flatMap((slot, index) => {
        const before = slots[index - 1];
        return before === undefined || slot - before <= FARTHEST
          ? []
          : [
              {
                path: ["functions", id, "slots", index],
                message: `fine slot ${slot} is ${slot - before} slots away from ${before}`,
                instead: `the slot that the chart calls fine, often [${slots[0]}, ${(slots[0] ?? 0) + 1}]`,
              },
            ];
      }),
    ),
};

/** Slots of the mode that no function of the profile has. */
export const slotsWithoutFunction: ProfileRule = {
  name: "slots-without-function",
  why: "What Limber is not told about it sends as 0, and on some fixtures 0 is a macro or a slow mode.",
  find: (read) => stretches(freeSlots(read)).map((stretch) => finding(read, stretch)),
};

type SlotStretch = readonly [first: number, last: number];

const freeSlots = ({ profile, written }: ReadProfile): readonly number[] => {
  const moved = [...profile.functions.values()].flatMap((spec) => cellsOf(spec).flat());
  const used = new Set([...moved, ...profile.held.flatMap(({ slots }) => slots)]);
  return Array.from({ length: written.slots }, (_, index) => index + 1).filter((slot) => !used.has(slot));
};

const stretches = (free: readonly number[]): readonly SlotStretch[] => {
  const firsts = free.filter((slot) => !free.includes(slot - 1));
  return firsts.map((first) => [first, free.find((slot) => slot >= first && !free.includes(slot + 1)) ?? first]);
};

const finding = ({ profile }: ReadProfile, [first, last]: SlotStretch): ProfileFinding => {
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

/** A profile that is called otherwise than its file. */
export const nameNotFile: ProfileRule = {
  name: "name-not-file",
  why: "Profiles are found by the name of their file, runs keep the name in it.",
  find: ({ file: { source }, profile: { name } }) => {
    const called = /([^/\\]+)\.ya?ml$/.exec(source)?.[1];
    return called === undefined || called === name
      ? []
      : [
          {
            path: ["profile"],
            message: `the file is called ${called}`,
            instead: `the file ${name}.yaml, or profile: ${called}`,
          },
        ];
  },
};

/** A title that speaks of another mode. */
export const titleSaysOther: ProfileRule = {
  name: "title-says-other",
  why: "People choose by the title: a copied one sends them to the wrong mode.",
  find: ({ written: { title, slots } }) => {
    const said = /\b(\d+)[ -]?(?:slots?|channels?|ch)\b/i.exec(title)?.[1];
    return said === undefined || Number(said) === slots
      ? []
      : [
          {
            path: ["title"],
            message: `the title says ${said}, the mode has ${slots} slots`,
            instead: `title: ${title.replace(said, String(slots))}`,
          },
        ];
  },
};

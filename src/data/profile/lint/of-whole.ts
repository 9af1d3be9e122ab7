import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { ReadProfile } from "../parse.ts";
import { cellsOf, physicalOf } from "../profile.ts";
import { functionsOfKind, type ProfileFinding, type ProfileRule } from "./rule.ts";

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

/** What shuts the beam, left to what is usual. */
export const restLeftUnsaid: ProfileRule = {
  name: "rest-left-unsaid",
  why: "The dark state is the one thing that whoever reads a profile must not have to guess.",
  find: ({ profile, written }) =>
    (["Shutter1", "Dimmer"] as const).flatMap((id) =>
      !profile.functions.has(id) || written.rest[id] !== undefined
        ? []
        : [
            {
              path: ["rest"],
              at: "key" as const,
              message: `rest does not name ${id}`,
              instead: id === "Shutter1" ? "Shutter1: closed" : "Dimmer: 0",
            },
          ],
    ),
};

/** So near to its level a command may still be taken (judgement). */
const NEAR = 5;

/** A control slot that rests where a command is. */
export const restOnACommand: ProfileRule = {
  name: "rest-on-a-command",
  why: "At rest the slot is held for minutes: the fixture would reset, or its lamp go out, again and again.",
  find: (read) =>
    functionsOfKind(read, "commands").flatMap(([id, { rest, commands }]) => {
      const command = commands.find(({ at }) => Math.abs(at - rest) <= NEAR);
      return command
        ? [
            {
              path: ["functions", id, "rest"],
              message: `rests at ${rest}, where "${command.is}" is`,
              instead: 'rest: the level that the chart calls "no function"',
            },
          ]
        : [];
    }),
};

/** A rest state in which light comes out. */
export const restNotDark: ProfileRule = {
  name: "rest-not-dark",
  why: "The rest state ends every run and stands between steps: people take it for dark.",
  find: (read) =>
    shutterShut(read) || dimmerDown(read)
      ? []
      : [
          {
            path: ["rest"],
            at: "key" as const,
            message: "the rest state lets light out",
            instead: "rest: { Shutter1: closed, Dimmer: 0 }, or the dimmer's level of no light",
          },
        ],
};

const shutterShut = ({ profile }: ReadProfile): boolean => {
  const shutter = profile.functions.get("Shutter1");
  const raw = profile.rest.get("Shutter1") ?? 0;
  return (
    shutter?.kind === "banded" && shutter.bands.some(({ is, from, to }) => is === "closed" && raw >= from && raw <= to)
  );
};

const dimmerDown = ({ profile }: ReadProfile): boolean => {
  const lights = profile.functions.has("Dimmer") ? (["Dimmer"] as const) : emittersOf(profile);
  return (
    lights.length > 0 &&
    lights.every((id) => {
      const spec = profile.functions.get(id);
      return spec?.kind === "travel" && physicalOf(spec, profile.rest.get(id) ?? 0) === 0;
    })
  );
};

const emittersOf = ({ functions }: ReadProfile["profile"]): readonly FunctionId[] =>
  [...functions.keys()].filter((id) => id.startsWith("ColorAdd_"));

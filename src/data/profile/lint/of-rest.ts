import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { ReadProfile } from "../parse.ts";
import { physicalOf } from "../profile.ts";
import { functionsOfKind, type ProfileRule } from "./rule.ts";

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

import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { ReadProfile } from "../parse.ts";
import { physicalOf } from "../profile.ts";
import type { ProfileRule } from "./rule.ts";

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

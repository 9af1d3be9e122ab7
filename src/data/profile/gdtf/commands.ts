import type { CommandFile } from "../schema.ts";
import { standardName } from "./attributes.ts";
import type { ChannelClaim, ClaimedPart } from "./claims.ts";
import { coarseOf, middleOf, piecesOf } from "./stretches.ts";
import type { Drafted, NotDrafted } from "./travel.ts";

/** A control slot: the commands that Limber gives, told by attribute where there is one, else by the name of the set. */
export const commandsFrom = ({ channel, parts }: ChannelClaim): Drafted | NotDrafted => {
  const bytes = channel.slots.length;
  const commands = parts.flatMap((part) =>
    piecesOf(part).flatMap((piece): readonly CommandFile[] => {
      const stretch = coarseOf(piece, bytes);
      const is = meaningOf(part, piece.name);
      return stretch && is
        ? [{ is, at: middleOf(stretch), hold_s: USUAL_HOLD_S, then_s: is === "reset" ? USUAL_RESET_S : 0 }]
        : [];
    }),
  );
  const once = commands.filter(
    ({ is, at }, n) => commands.findIndex((other) => other.is === is || other.at === at) === n,
  );
  const [coarse] = channel.slots;
  const rest = Math.floor(channel.initial / 256 ** (bytes - 1));
  if (once.length === 0 || coarse === undefined)
    return { why: "none of its sets is a reset, lamp or fan command by its name" };
  if (once.some(({ at }) => at === rest)) return { why: "its default would be a command" };
  return {
    spec: { slots: [coarse], rest, commands: once.toSorted((a, b) => a.at - b.at) },
    remarks: ["commands told by their names: hold them against the chart"],
    measure: ["hold_s", "then_s"],
  };
};

/** Common practice, no source. */
const USUAL_HOLD_S = 5;
const USUAL_RESET_S = 40;

const meaningOf = ({ attribute, role, name: whole }: ClaimedPart, name: string): CommandFile["is"] | undefined => {
  const said = BY_NAME.find(([pattern]) => pattern.test(name || whole))?.[1];
  if (role === "reset") return NOTHING.test(name) ? undefined : "reset";
  return said ?? (standardName(attribute) === "LampControl" ? lampMeaning(name || whole) : undefined);
};

const lampMeaning = (name: string): CommandFile["is"] | undefined =>
  /\bon\b/i.test(name) ? "lamp-on" : /\boff\b/i.test(name) ? "lamp-off" : undefined;

const NOTHING = /idle|no function|no action|unused|reserved|safe|no ?feature/i;
/** A reset of one part alone is none of the whole fixture. */
const BY_NAME: readonly (readonly [RegExp, CommandFile["is"]])[] = [
  [/^(global |full |fixture |total |complete |all )*reset( all| fixture| total)?$|^(all|everything) reset$/i, "reset"],
  [/\blamp\b.*\bon\b/i, "lamp-on"],
  [/\blamp\b.*\boff\b/i, "lamp-off"],
  [/\bfans?\b.*\b(low|quiet|silent|slow)\b/i, "fans-low"],
  [/\bfans?\b.*\b(full|high|max)/i, "fans-full"],
];

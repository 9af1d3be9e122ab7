import { groupsBy } from "../../../domain/keys.ts";
import type { Problem } from "../../../domain/problem/problem.ts";
import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { WheelKind } from "../../../domain/trade/mechanisms.ts";
import type { CommandFile } from "../schema.ts";
import { fateOf, standardName } from "./attributes.ts";
import { type ChannelClaim, type ChannelClaims, type ClaimedPart, claimsIn, slotWords } from "./claims.ts";
import { type Coverage, coverageOf, type Holding, holdingsOf, type Made } from "./coverage.ts";
import type { Description, Mode } from "./description.ts";
import { insertFrom, shutterFrom, slides } from "./leaf.ts";
import { NO_FEATURE } from "./read-functions.ts";
import { coarseOf, middleOf, piecesOf } from "./stretches.ts";
import { type Drafted, goesDark, MOST_CELLS, type NotDrafted, travelFrom, weightClass } from "./travel.ts";
import { rotationFrom, wheelFrom } from "./wheel.ts";

/** A mode as our functions: what became of each, what is only held, and what was assumed or left, with its place. */
export interface ImportedMode {
  readonly mode: Mode;
  readonly functions: ReadonlyMap<FunctionId, Drafted>;
  readonly held: readonly Holding[];
  readonly coverage: Coverage;
  readonly notes: readonly Problem[];
}

/** Makes our functions of a mode's channels. Nothing is dropped in silence: the rest is held, and told. */
export const importMode = (description: Description, mode: Mode): ImportedMode => {
  const shared = claimsIn(mode);
  const tried = shared.claims.map((claim) => ({ claim, draft: draftOf(description, mode, shared, claim) }));
  const drafts = tried.map((one) => usable(one, tried));
  const made = drafts.flatMap(({ claim, draft }): readonly Made[] => ("spec" in draft ? [{ claim, draft }] : []));
  const refused = new Map(
    drafts.flatMap(({ claim, draft }) => ("why" in draft ? [[claim.channel, draft.why] as const] : [])),
  );
  const held = holdingsOf(mode, shared, made, refused);
  return {
    mode,
    functions: new Map(made.map(({ claim, draft }) => [claim.id, draft])),
    held,
    coverage: coverageOf(mode, made, held),
    notes: together([...description.fixture.notes, ...mode.notes, ...notesOf(description, mode, shared, drafts)]),
  };
};

interface Tried {
  readonly claim: ChannelClaim;
  readonly draft: Drafted | NotDrafted;
}

/** A shutter that nobody can open is none; one that nobody can close is left to a dimmer or emitters beside it. */
const usable = (one: Tried, all: readonly Tried[]): Tried => {
  const { claim, draft } = one;
  if (claim.id !== "Shutter1" || !("spec" in draft) || !("bands" in draft.spec)) return one;
  const has = (is: "open" | "closed") => "bands" in draft.spec && draft.spec.bands.some((band) => band.is === is);
  const dims = all.some((other) => "spec" in other.draft && goesDark(other.claim.id));
  if (has("open") && (has("closed") || dims)) return one;
  return { claim, draft: { why: `no stretch of it is called ${has("open") ? "closed" : "open"}` } };
};

const notesOf = (
  { xml }: Description,
  mode: Mode,
  shared: ChannelClaims,
  drafts: readonly Tried[],
): readonly Problem[] => [
  ...drafts.flatMap(({ claim, draft }) =>
    "why" in draft
      ? [xml.problem(claim.channel, `${claim.id}, ${slotWords(claim.channel)}: left out, ${draft.why}`)]
      : [],
  ),
  ...drafts.flatMap(({ claim, draft }) => {
    const alone = claim.copies.length - ("spec" in draft && "cells" in draft.spec ? MOST_CELLS : 0);
    return alone > 0 && "spec" in draft
      ? [xml.problem(claim.channel, `${claim.id}: ${alone} more of it, not driven`)]
      : [];
  }),
  ...shared.left
    .filter(({ function: { attribute } }) => attribute !== NO_FEATURE)
    .map(({ channel, function: left, why }) =>
      xml.problem(left, `${left.attribute}, ${slotWords(channel)}: not driven, ${why}`),
    ),
  ...mode.channels.flatMap((channel) => {
    if (channel.copy > 0 || channel.slots.length === 0) return [];
    return channel.break === mode.break
      ? []
      : [
          xml.problem(
            channel,
            `${channel.name}: not driven, it has a start address of its own (DMX break ${channel.break})`,
          ),
        ];
  }),
];

/** Alike ones are told once with their number; whoever has more than a thousand others should read the chart. */
const together = (notes: readonly Problem[]): readonly Problem[] => {
  const once = [...groupsBy(notes, ({ message }) => message).values()].flatMap(([first, ...others]) =>
    first
      ? [others.length > 0 ? { ...first, message: `${first.message} (and ${others.length} more such)` } : first]
      : [],
  );
  const [last] = once.slice(MOST_TOLD);
  return last
    ? [...once.slice(0, MOST_TOLD), { ...last, message: `${once.length - MOST_TOLD} more of the kind` }]
    : once;
};
const MOST_TOLD = 1000;

const draftOf = (
  { fixture }: Description,
  mode: Mode,
  shared: ChannelClaims,
  claim: ChannelClaim,
): Drafted | NotDrafted => {
  const weight = weightClass(fixture.weight);
  switch (claim.parts[0]?.role) {
    case "wheel":
      return wheelFrom(claim, {
        kind: kindOf(mode, claim.id),
        wheels: fixture.wheels,
        needed: neededOf(shared, claim),
      });
    case "leaf":
    case "strobe":
      if (claim.id === "Shutter1") return shutterFrom(claim);
      return claim.id === "Frost1" && slides(claim) ? travelFrom(claim, weight) : insertFrom(claim, fixture.wheels);
    case "index":
    case "turn":
      return rotationFrom(claim);
    case "reset":
    case "command":
      return commandsFrom(claim);
    default:
      return travelFrom(claim, weight);
  }
};

const neededOf = ({ claims }: ChannelClaims, { channel }: ChannelClaim) =>
  claims.flatMap(({ condition }) => (condition?.master === channel.name ? [condition] : []));

const kindOf = (mode: Mode, id: FunctionId): WheelKind => {
  if (id === "Color1" || id === "Color2") return "colour";
  if (id === "AnimationWheel1") return "effect";
  const turns = mode.channels.some(({ functions }) =>
    functions.some(({ attribute }) => {
      const fate = fateOf(attribute);
      return fate.kind === "drives" && fate.id === `${id}Pos`;
    }),
  );
  return turns ? "rotating" : "fixed";
};

/** A control slot: the commands that Limber gives, told by attribute where there is one, else by the name of the set. */
const commandsFrom = ({ channel, parts }: ChannelClaim): Drafted | NotDrafted => {
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

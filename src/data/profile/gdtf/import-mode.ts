import type { Problem } from "../../../domain/problem/problem.ts";
import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { WheelKind } from "../../../domain/trade/mechanisms.ts";
import { partOf } from "./attributes.ts";
import { type Claim, type Claims, claimsIn, slotWords } from "./claims.ts";
import { commandsFrom } from "./commands.ts";
import type { Channel, ChannelFunction, Mode } from "./description.ts";
import type { Drafted, NotDrafted } from "./drafted.ts";
import { type Holding, holdingsOf, type Made } from "./held.ts";
import { insertFrom, shutterFrom, slides } from "./leaf.ts";
import type { Description } from "./read-fixture.ts";
import { rotationFrom } from "./rotation.ts";
import { MOST_CELLS, travelFrom } from "./travel.ts";
import { wheelFrom } from "./wheel.ts";

/** A mode as our functions: what became of each, what is only held, and what was not understood, with its place. */
export interface ImportedMode {
  readonly mode: Mode;
  readonly functions: ReadonlyMap<FunctionId, Drafted>;
  readonly held: readonly Holding[];
  readonly notes: readonly Problem[];
}

/** Makes our functions of a mode's channels. Nothing is dropped in silence: the rest is held, and told. */
export const importMode = (description: Description, mode: Mode): ImportedMode => {
  const shared = claimsIn(mode);
  const drafts = shared.claims.map((claim) => ({ claim, draft: draftOf(description, mode, shared, claim) }));
  const made = drafts.flatMap(({ claim, draft }): readonly Made[] => ("spec" in draft ? [{ claim, draft }] : []));
  const { xml } = description;
  return {
    mode,
    functions: new Map(made.map(({ claim, draft }) => [claim.id, draft])),
    held: holdingsOf(mode, shared, made),
    notes: withinReason(xml.problem(mode, ""), [
      ...mode.remarks,
      ...drafts.flatMap(({ claim, draft }) =>
        "why" in draft
          ? [xml.problem(claim.channel, `${claim.id}, ${slotWords(claim.channel)}: left out, ${draft.why}`)]
          : [],
      ),
      ...made.flatMap(({ claim, draft }) => {
        const alone = claim.copies.length - ("cells" in draft.spec ? MOST_CELLS : 0);
        return alone > 0
          ? [xml.problem(claim.channel, `${claim.id}: ${alone} more of it by geometry references, not driven`)]
          : [];
      }),
      ...shared.left.map(({ channel, function: left, why }) => xml.problem(left, leftWords(channel, left, why))),
      ...mode.channels.flatMap((channel) => undrivenWords(mode, channel).map((words) => xml.problem(channel, words))),
    ]),
  };
};

/** Whoever has more than a thousand should read the chart; that there are more is told. */
const withinReason = (atMode: Problem, notes: readonly Problem[]): readonly Problem[] =>
  notes.length <= 1000
    ? notes
    : [...notes.slice(0, 1000), { ...atMode, message: `${notes.length - 1000} more of the kind` }];

const leftWords = (channel: Channel, { attribute, from, to }: ChannelFunction, why: string): string =>
  `${attribute}, ${slotWords(channel)}, ${from} to ${to}: not driven, ${why}`;

/** A channel has no place on the DMX line of the rig's one start address. */
const undrivenWords = (mode: Mode, { name, slots, copy, break: at }: Channel): readonly string[] => {
  if (copy > 0) return [];
  if (slots.length === 0) return [`${name}: not driven, it has no slot`];
  return at === mode.break ? [] : [`${name}: not driven, it has a start address of its own (DMX break ${at})`];
};

const draftOf = ({ fixture }: Description, mode: Mode, shared: Claims, claim: Claim): Drafted | NotDrafted => {
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
      return claim.id === "Frost1" && slides(claim) ? travelFrom(claim) : insertFrom(claim, fixture.wheels);
    case "index":
    case "turn":
      return rotationFrom(claim);
    case "reset":
    case "command":
      return commandsFrom(claim);
    default:
      return travelFrom(claim);
  }
};

const neededOf = ({ claims }: Claims, { channel }: Claim) =>
  claims.flatMap(({ condition }) => (condition?.master === channel.name ? [condition] : []));

const kindOf = (mode: Mode, id: FunctionId): WheelKind => {
  if (id === "Color1" || id === "Color2") return "colour";
  if (id === "AnimationWheel1") return "effect";
  const turns = mode.channels.some(({ functions }) =>
    functions.some(({ attribute }) => partOf(attribute)?.id === `${id}Pos`),
  );
  return turns ? "rotating" : "fixed";
};

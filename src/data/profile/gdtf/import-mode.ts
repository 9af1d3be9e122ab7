import { groupsBy } from "../../../domain/keys.ts";
import type { Problem } from "../../../domain/problem/problem.ts";
import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { WheelKind } from "../../../domain/trade/mechanisms.ts";
import { fateOf } from "./attributes.ts";
import { type ChannelClaim, type ChannelClaims, claimsIn, slotWords } from "./claims.ts";
import { commandsFrom } from "./commands.ts";
import { type Coverage, coverageOf, type Holding, holdingsOf, type Made } from "./coverage.ts";
import type { Mode } from "./description.ts";
import { insertFrom, shutterFrom, slides } from "./leaf.ts";
import type { Description } from "./read-fixture.ts";
import { NO_FEATURE } from "./read-functions.ts";
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

import type { FunctionId } from "../../../domain/trade/functions.ts";
import { type Part, partOf } from "./attributes.ts";
import type { Channel, ChannelFunction, Condition, Mode } from "./description.ts";
import { grouped } from "./grouped.ts";

/** A channel of the mode with what of it belongs to one of our functions, and what is left over. */
export interface Claim {
  readonly id: FunctionId;
  readonly channel: Channel;
  /** Repeats of the channel: further cells of the same fixture. */
  readonly copies: readonly Channel[];
  readonly parts: readonly ClaimedPart[];
  /** Under which condition they hold, where they hold under one. */
  readonly condition: Condition | undefined;
}

export type ClaimedPart = ChannelFunction & Pick<Part, "role">;

/** What of the mode is not driven, and why not. */
export interface Left {
  readonly channel: Channel;
  readonly function: ChannelFunction;
  readonly why: string;
}

export interface Claims {
  readonly claims: readonly Claim[];
  readonly left: readonly Left[];
}

/** Shares the channels of a mode out to our functions: each function has one channel, the first in the file. */
export const claimsIn = (mode: Mode): Claims => {
  const driven = mode.channels.filter((channel) => channel.slots.length > 0 && channel.break === mode.break);
  const copies = grouped(
    driven.filter(({ copy }) => copy > 0),
    ({ at }) => at,
  );
  const shares = driven.filter(({ copy }) => copy === 0).map((channel) => shareOf(mode, channel));
  const taken = new Map<FunctionId, Claim>();
  const left: Left[] = [];
  for (const { channel, claim, rest } of shares) {
    left.push(...rest);
    const owner = claim && taken.get(claim.id);
    if (claim && owner)
      left.push(
        ...claim.parts.map((part) => leftOf(channel, part, `${claim.id} is driven by ${slotWords(owner.channel)}`)),
      );
    else if (claim) taken.set(claim.id, { ...claim, copies: copies.get(channel.at) ?? [] });
  }
  return { claims: [...taken.values()], left };
};

export const slotWords = ({ slots }: Pick<Channel, "slots">): string =>
  slots.length === 1 ? `slot ${slots[0]}` : `slots ${slots.join(", ")}`;

interface Share {
  readonly channel: Channel;
  readonly claim: Claim | undefined;
  readonly rest: readonly Left[];
}

const leftOf = (channel: Channel, left: ChannelFunction, why: string): Left => ({ channel, function: left, why });

const shareOf = (mode: Mode, channel: Channel): Share => {
  const groups = grouped(channel.functions, ({ condition }) => keyOf(condition));
  const chosen = chosenGroup(mode, groups);
  const holding = channel.functions.filter(({ condition }) => condition === undefined || keyOf(condition) === chosen);
  const parts = holding.flatMap((one) => partsOf(one));
  const id = widest(parts);
  const own = parts.filter((part) => part.id === id);
  const taken = new Set(own.map(({ at }) => at));
  const rest = channel.functions.filter(({ at }) => !taken.has(at));
  return {
    channel,
    claim: id && { id, channel, copies: [], parts: own, condition: own.find(({ condition }) => condition)?.condition },
    rest: rest.map((one) => leftOf(channel, one, whyLeft(one, holding, id))),
  };
};

const keyOf = (condition: Condition | undefined): string =>
  condition ? `${condition.master} ${condition.from} ${condition.to}` : "";

const partsOf = (one: ChannelFunction): readonly (ClaimedPart & Part)[] => {
  const part = partOf(one.attribute);
  return part ? [{ ...one, ...part }] : [];
};

const whyLeft = (one: ChannelFunction, holding: readonly ChannelFunction[], id: FunctionId | undefined): string => {
  if (one.condition && !holding.includes(one))
    return `holds only while ${one.condition.master} stands at ${one.condition.from} to ${one.condition.to}`;
  return partOf(one.attribute) ? `shares its slot with ${id}` : "Limber does not drive it";
};

/** The function with the longest stretch of the channel. */
const widest = (parts: readonly (ClaimedPart & Part)[]): FunctionId | undefined =>
  parts.toSorted((a, b) => b.to - b.from - (a.to - a.from))[0]?.id;

/**
 * Of what holds under different conditions one is driven. A wheel is put where its gobo or prism turns, or else can be
 * put at an angle; any other master stays where it is by default.
 */
const chosenGroup = (mode: Mode, groups: ReadonlyMap<string, readonly ChannelFunction[]>): string => {
  const conditional = [...groups].filter(([key]) => key !== "");
  const worth = (group: readonly ChannelFunction[]): number => Math.max(0, ...group.map((one) => worthOf(mode, one)));
  return conditional.toSorted(([, a], [, b]) => worth(b) - worth(a))[0]?.[0] ?? "";
};

const worthOf = (mode: Mode, { attribute, condition }: ChannelFunction): number => {
  const master = mode.channels.find(({ name }) => name === condition?.master);
  const role = partOf(attribute)?.role;
  if (!master || !condition || role === undefined) return 0;
  const usual = master.initial >= condition.from && master.initial <= condition.to;
  return carries(master) ? (role === "turn" ? 3 : role === "index" ? 2 : 1) : usual ? 2 : 1;
};

/** A wheel or prism, which the rig can put where it likes. */
const carries = ({ functions }: Channel): boolean =>
  functions.some(({ attribute }) => ["wheel", "leaf"].includes(partOf(attribute)?.role ?? ""));

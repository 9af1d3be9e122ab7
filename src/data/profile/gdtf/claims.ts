import { groupsBy } from "../../../domain/keys.ts";
import type { FunctionId } from "../../../domain/trade/functions.ts";
import { FUNCTION_IDS } from "../../../domain/trade/functions.ts";
import { type AttributeRole, type Fate, fateOf, standardName } from "./attributes.ts";
import type { Channel, ChannelFunction, MasterCondition, Mode } from "./description.ts";
import { conditionKey } from "./read-functions.ts";

/** A channel of the mode with what of it belongs to one of our functions. */
export interface ChannelClaim {
  readonly id: FunctionId;
  readonly channel: Channel;
  /** Other channels that do the same: repeats of the channel, or a second one of its kind; further cells, where they are driven. */
  readonly copies: readonly Channel[];
  readonly parts: readonly ClaimedPart[];
  /** Under which condition they hold, where they hold under one. */
  readonly condition: MasterCondition | undefined;
}

export interface ClaimedPart extends ChannelFunction {
  readonly role: AttributeRole;
}

/** What of the mode is not driven, and why not. */
interface Left {
  readonly channel: Channel;
  readonly function: ChannelFunction;
  readonly why: string;
}

export interface ChannelClaims {
  readonly claims: readonly ChannelClaim[];
  readonly left: readonly Left[];
}

/** Shares the channels of a mode out to our functions: each function has one channel, the first in the file, and those alike. */
export const claimsIn = (mode: Mode): ChannelClaims => {
  const driven = mode.channels.filter((channel) => channel.slots.length > 0 && channel.break === mode.break);
  const fates = fatesIn(driven);
  const repeats = groupsBy(
    driven.filter(({ copy }) => copy > 0),
    ({ at }) => at,
  );
  const alone = onlyDimmer(driven, fates);
  const shares = driven.filter(({ copy }) => copy === 0).map((channel) => shareOf(mode, channel, fates, alone));
  const taken = new Map<FunctionId, ChannelClaim>();
  const left: Left[] = [];
  for (const { channel, claim, rest } of shares) {
    left.push(...rest);
    if (!claim) continue;
    const owner = taken.get(claim.id);
    const copies = repeats.get(channel.at) ?? [];
    if (!owner) taken.set(claim.id, { ...claim, copies });
    else if (isAlike(owner, claim)) taken.set(claim.id, { ...owner, copies: [...owner.copies, channel, ...copies] });
    else
      left.push(
        ...claim.parts.map((part) => leftOf(channel, part, `${claim.id} is driven by ${slotWords(owner.channel)}`)),
      );
  }
  return { claims: [...taken.values()], left };
};

/** The slots of a channel in words: "slot 3", "slots 3, 4". */
export const slotWords = ({ slots }: Pick<Channel, "slots">): string =>
  slots.length === 1 ? `slot ${slots[0]}` : `slots ${slots.join(", ")}`;

/** What becomes of an attribute in this mode. */
type Fates = (attribute: string) => Fate;

/**
 * Where a mode has only the third gobo wheel of its maker's counting, ours is the first that is free: numbers of wheels and
 * prisms are names, and begin anywhere.
 */
const fatesIn = (channels: readonly Channel[]): Fates => {
  const names = channels.flatMap(({ functions }) => functions.map(({ attribute }) => standardName(attribute)));
  const renamed = new Map(FAMILIES.flatMap((family) => [...renumbered(family, names)]));
  const white = WHITES.find((one) => names.includes(one));
  return (attribute) => {
    const spelled = secondMotor(standardName(attribute), names);
    const name = spelled === white ? "ColorAdd_W" : spelled;
    const [, family, number, rest = ""] = /^([A-Za-z]+?)(\d+)(\w*)$/.exec(name) ?? [];
    const ours = family && renamed.get(`${family}${number}`);
    return fateOf(ours ? `${ours}${rest}` : name);
  };
};

/** Where a mode has no plain white, its cool or its warm one is the white emitter; a second one is kept dark. */
const WHITES = ["ColorAdd_W", "ColorAdd_CW", "ColorAdd_WW"];

/** A blade has two motors: two corners, or one that pushes it in and one that turns it. The second is our second. */
const secondMotor = (name: string, names: readonly string[]): string => {
  const corner = name.replace(/^(Blade\d)Rot$/, "$1B");
  return names.includes(corner) ? name : corner;
};

const FAMILIES = ["Shutter", "Color", "Gobo", "AnimationWheel", "Prism", "Frost", "Focus", "Control"];

const renumbered = (family: string, names: readonly string[]): ReadonlyMap<string, string> => {
  const pattern = new RegExp(`^${family}\\d+`);
  const found = new Set(names.flatMap((name) => pattern.exec(name)?.[0] ?? []));
  const ours = FUNCTION_IDS.filter((id) => id.replace(/\d+$/, "") === family);
  const free = ours.filter((id) => !found.has(id));
  const strange = [...found].filter((name) => !ours.some((id) => id === name)).sort();
  return new Map(strange.slice(0, free.length).map((name, n) => [name, free[n] ?? name]));
};

interface ChannelShare {
  readonly channel: Channel;
  readonly claim: ChannelClaim | undefined;
  readonly rest: readonly Left[];
}

const leftOf = (channel: Channel, left: ChannelFunction, why: string): Left => ({ channel, function: left, why });

interface ClaimedFunction extends ClaimedPart {
  readonly id: FunctionId;
}

const partsOf = (one: ChannelFunction, fates: Fates): readonly ClaimedFunction[] => {
  const fate = fates(one.attribute);
  return fate.kind === "drives" ? [{ ...one, id: fate.id, role: fate.role }] : [];
};

const shareOf = (mode: Mode, channel: Channel, fates: Fates, alone: Channel | undefined): ChannelShare => {
  const groups = groupsBy(channel.functions, ({ condition }) => conditionKey(condition));
  const chosen = chosenGroup(mode, groups, fates);
  const holding = channel.functions.filter(
    ({ condition }) => condition === undefined || conditionKey(condition) === chosen,
  );
  const parts = holding.flatMap((one) => partsOf(one, fates));
  const id = alone === channel ? "Dimmer" : widest(parts);
  const commands = parts.some((part) => part.id === id && isCommand(part));
  const own = parts.filter((part) => part.id === id || (commands && isCommand(part)));
  const taken = new Set(own.map(({ at }) => at));
  const rest = channel.functions.filter(({ at }) => !taken.has(at));
  return {
    channel,
    claim: id && { id, channel, copies: [], parts: own, condition: own.find(({ condition }) => condition)?.condition },
    rest: rest.map((one) => leftOf(channel, one, whyLeft(one, holding, id, fates))),
  };
};

/** Reset, lamp and fans often share one slot: it is one slot of commands. */
const isCommand = ({ role }: ClaimedFunction): boolean => role === "command" || role === "reset";

/** The one channel that has a dimmer in it, be it beside a shutter: without it nothing would dim. */
const onlyDimmer = (channels: readonly Channel[], fates: Fates): Channel | undefined => {
  const dims = (one: ChannelFunction): boolean => {
    const fate = fates(one.attribute);
    return fate.kind === "drives" && fate.id === "Dimmer" && one.to > one.from && one.condition === undefined;
  };
  const dimming = channels.filter(({ copy, functions }) => copy === 0 && functions.some(dims));
  return dimming.length === 1 ? dimming[0] : undefined;
};

const whyLeft = (
  one: ChannelFunction,
  holding: readonly ChannelFunction[],
  id: FunctionId | undefined,
  fates: Fates,
): string => {
  if (one.condition && !holding.includes(one))
    return `holds only while ${one.condition.master} stands at ${one.condition.from} to ${one.condition.to}`;
  const fate = fates(one.attribute);
  return fate.kind === "drives" ? `shares its slot with ${id}` : fate.why;
};

/** The function with the longest stretches of the channel. */
const widest = (parts: readonly ClaimedFunction[]): FunctionId | undefined => {
  const lengths = [...groupsBy(parts, ({ id }) => id)].map(([id, own]) => ({
    id,
    length: own.reduce((sum, { from, to }) => sum + to - from + 1, 0),
  }));
  return lengths.toSorted((a, b) => b.length - a.length)[0]?.id;
};

/** Travels over the same values can be driven as one. */
const isAlike = (owner: ChannelClaim, other: ChannelClaim): boolean => {
  const [one] = owner.parts;
  const [two] = other.parts;
  return (
    one?.role === "travel" &&
    two?.role === "travel" &&
    owner.channel.slots.length === other.channel.slots.length &&
    one.from === two.from &&
    one.to === two.to &&
    one.physical[0] === two.physical[0] &&
    one.physical[1] === two.physical[1]
  );
};

/**
 * Of what holds under different conditions one is driven. A wheel is put where its gobo or prism turns, or else can be
 * put at an angle; any other master stays where it is by default.
 */
const chosenGroup = (mode: Mode, groups: ReadonlyMap<string, readonly ChannelFunction[]>, fates: Fates): string => {
  const conditional = [...groups].filter(([key]) => key !== "");
  const worth = (group: readonly ChannelFunction[]): number =>
    Math.max(0, ...group.map((one) => worthOf(mode, one, fates)));
  return conditional.toSorted(([, a], [, b]) => worth(b) - worth(a))[0]?.[0] ?? "";
};

const worthOf = (mode: Mode, { attribute, condition }: ChannelFunction, fates: Fates): number => {
  const master = mode.channels.find(({ name }) => name === condition?.master);
  const fate = fates(attribute);
  if (!master || !condition || fate.kind !== "drives") return 0;
  const usual = master.initial >= condition.from && master.initial <= condition.to;
  const { role } = fate;
  return carries(master, fates) ? (role === "turn" ? 3 : role === "index" ? 2 : 1) : usual ? 2 : 1;
};

/** A wheel or prism, which Limber can put where it likes. */
const carries = ({ functions }: Channel, fates: Fates): boolean =>
  functions.some(({ attribute }) => {
    const fate = fates(attribute);
    return fate.kind === "drives" && (fate.role === "wheel" || fate.role === "leaf");
  });

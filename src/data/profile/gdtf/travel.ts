import type { FunctionId } from "../../../domain/trade/functions.ts";
import { fullRaw, physicalOf, type Raw, rawOf, type Scale } from "../profile.ts";
import type { Claim, ClaimedPart } from "./claims.ts";
import type { Channel } from "./description.ts";
import { type Drafted, type NotDrafted, rounded, shortest } from "./drafted.ts";

/** A function that moves between two ends, in degrees or percent; where it shares its slots, with its raw ends. */
export const travelFrom = (claim: Claim): Drafted | NotDrafted => {
  const { id, channel, parts } = claim;
  const part = widestOf(parts);
  if (!part) return { why: "no stretch of it is a travel" };
  const [from, to] = isAngle(id) ? part.physical : inPercent(part.physical);
  if (from === to || part.from === part.to) return { why: `both ends stand at ${part.physical[0]}` };
  const scale = { from, to, low: part.from, high: part.to };
  const known = part.fade > 0;
  return {
    spec: {
      slots: [...channel.slots],
      ...(isAngle(id) ? inDegrees(claim, scale, part) : inShares(claim, scale, part)),
      ...rawEndsOf(channel, part),
      full_travel_s: known ? rounded(part.fade) : usualTime(id),
    },
    remarks: [...(isAngle(id) ? [] : percentWords(part)), ...(known ? ["travel time from RealFade"] : [])],
    measure: known ? [] : ["full_travel_s"],
  };
};

const widestOf = (parts: readonly ClaimedPart[]): ClaimedPart | undefined =>
  parts.toSorted((a, b) => b.to - b.from - (a.to - a.from))[0];

const inDegrees = (claim: Claim, scale: Scale, part: ClaimedPart) => ({
  from_deg: scale.from,
  to_deg: scale.to,
  rest_deg: restOf(scale, part.initial ?? claim.channel.initial),
});

/** What makes light rests at nothing, whatever the file's default is. */
const inShares = ({ id, channel, copies }: Claim, scale: Scale, part: ClaimedPart) => ({
  from_pct: scale.from,
  to_pct: scale.to,
  ...(goesDark(id) ? darkOf(scale) : { rest_pct: restOf(scale, part.initial ?? channel.initial) }),
  ...(copies.length > 0 ? { cells: copies.slice(0, MOST_CELLS).map(({ slots }) => [...slots]) } : {}),
});
export const MOST_CELLS = 128;

const rawEndsOf = (channel: Channel, { from, to }: ClaimedPart) => ({
  ...(from === 0 ? {} : { from_raw: from }),
  ...(to === fullRaw(channel) ? {} : { to_raw: to }),
});

export const isAngle = (id: FunctionId): boolean => ["Pan", "Tilt", "Zoom", "ShaperRot"].includes(id);

const darkOf = ({ from, to }: Scale) => (from > to ? { rest_pct: Math.min(from, to) } : {});

const goesDark = (id: FunctionId): boolean => id === "Dimmer" || id.startsWith("ColorAdd_");

/** Starter values of fixtures in good order: common practice, no source. */
const USUAL_TRAVEL_S = 0.5;
const USUAL_S: Readonly<Partial<Record<FunctionId, number>>> = {
  Pan: 2.6,
  Tilt: 1.6,
  Zoom: 1.2,
  Focus1: 1.2,
  Dimmer: 0.3,
  ShaperRot: 0.9,
};
const usualTime = (id: FunctionId): number => USUAL_S[id] ?? USUAL_TRAVEL_S;

type Pair = readonly [number, number];

/** GDTF gives shares from 0 to 1; other measures keep only their direction. */
const inPercent = ([from, to]: Pair): Pair => {
  if (isShare(from) && isShare(to)) return [rounded(from * 100), rounded(to * 100)];
  return from <= to ? [0, 100] : [100, 0];
};

const isShare = (value: number): boolean => value >= 0 && value <= 1;

const percentWords = ({ physical: [from, to] }: ClaimedPart): readonly string[] =>
  isShare(from) && isShare(to) ? [] : [`percent stand for ${from} to ${to} in the file`];

/** Where it stands by default, inside its travel. */
const restOf = (travel: Scale, initial: Raw): number => {
  const raw = Math.min(travel.high, Math.max(travel.low, initial));
  return shortest(physicalOf(travel, raw), (shorter) => rawOf(travel, shorter) === raw);
};

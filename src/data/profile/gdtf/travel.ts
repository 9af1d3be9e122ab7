import { type FunctionId, isAxisFunction } from "../../../domain/trade/functions.ts";
import { fullRaw, physicalOf, type Raw, rawOf, type Scale } from "../profile.ts";
import type { FunctionFile } from "../schema.ts";
import type { ChannelClaim, ClaimedPart } from "./claims.ts";
import type { Channel } from "./description.ts";

/** One function as it will stand in the profile file, and what is to be said beside it. */
export interface Drafted {
  readonly spec: FunctionFile;
  /** Where its numbers come from, when that is not plain from the file. */
  readonly remarks: readonly string[];
  /** Keys whose value is only a usual one: the file does not say, somebody must measure. */
  readonly measure: readonly string[];
}

/** Why a channel did not become a function. */
export interface NotDrafted {
  readonly why: string;
}

/** A heavy head moves more slowly: what is usual depends on its weight. */
export type WeightClass = "light" | "medium" | "heavy";

/**
 * How heavy a fixture is: light under 12 kg, heavy over 25 kg, else medium, also where the weight is not
 * known. The bounds are judgement, no source.
 */
export const weightClass = (kilograms: number | undefined): WeightClass => {
  if (kilograms === undefined) return "medium";
  return kilograms < 12 ? "light" : kilograms > 25 ? "heavy" : "medium";
};

/** A function that moves between two ends, in degrees or percent; where it shares its slots, with its raw ends. */
export const travelFrom = (claim: ChannelClaim, weight: WeightClass): Drafted | NotDrafted => {
  const { id, channel, parts } = claim;
  const part = longest(parts);
  if (!part) return { why: "no stretch of it is a travel" };
  if (part.from === part.to) return { why: "it is one value wide" };
  const angles = isAngle(id) ? anglesOf(id, part) : undefined;
  const [from, to] = angles?.ends ?? inPercent(part.physical);
  const scale = { from, to, low: part.from, high: part.to };
  const known = part.fade > 0;
  return {
    spec: {
      slots: [...channel.slots],
      ...(angles ? inDegrees(claim, scale, part) : inShares(claim, scale, part)),
      ...rawEndsOf(channel, part),
      ...(claim.copies.length > 0 ? { cells: claim.copies.slice(0, MOST_CELLS).map(({ slots }) => [...slots]) } : {}),
      full_travel_s: known ? sixDigits(part.fade + part.acceleration) : usualTime(id, weight),
      // How late it follows matters where the eye follows it.
      ...(isAxisFunction(id) ? { lag_s: USUAL_LAG_S } : {}),
    },
    remarks: [...(angles ? angles.remarks : percentWords(part)), ...(known ? [fadeWords(part)] : [])],
    measure: [
      ...(angles?.guessed ? ["from_deg", "to_deg"] : []),
      ...(known ? [] : ["full_travel_s"]),
      ...(isAxisFunction(id) ? ["lag_s"] : []),
      ...(id === "Focus1" ? ["sharp_pct"] : []),
    ],
  };
};

export const MOST_CELLS = 128;

const longest = (parts: readonly ClaimedPart[]): ClaimedPart | undefined =>
  parts.toSorted((a, b) => b.to - b.from - (a.to - a.from))[0];

const fadeWords = ({ acceleration }: ClaimedPart): string =>
  acceleration > 0 ? "travel time from RealFade and RealAcceleration" : "travel time from RealFade";

const inDegrees = (claim: ChannelClaim, scale: Scale, part: ClaimedPart) => ({
  from_deg: scale.from,
  to_deg: scale.to,
  rest_deg: restOf(scale, part.initial ?? claim.channel.initial),
});

/** What makes light rests at nothing, whatever the file's default is. */
const inShares = ({ id, channel }: ChannelClaim, scale: Scale, part: ClaimedPart) => ({
  from_pct: scale.from,
  to_pct: scale.to,
  ...(goesDark(id) ? darkOf(scale) : { rest_pct: restOf(scale, part.initial ?? channel.initial) }),
  ...(id === "Focus1" ? { sharp_pct: USUAL_SHARP_PCT } : {}),
});

const rawEndsOf = (channel: Channel, { from, to }: ClaimedPart) => ({
  ...(from === 0 ? {} : { from_raw: from }),
  ...(to === fullRaw(channel) ? {} : { to_raw: to }),
});

const isAngle = (id: FunctionId): boolean => id in USUAL_DEG;

/** Light is nothing at 0 of its own measure, be that at the end of its travel or not. */
const darkOf = ({ from, to }: Scale) => (from > to ? { rest_pct: Math.min(from, to) } : {});

/** Whether the light goes out where this function stands at its lower end: a dimmer or an emitter. */
export const goesDark = (id: FunctionId): boolean => id === "Dimmer" || id.startsWith("ColorAdd_");

type NumberPair = readonly [number, number];

/** Usual ends where a file gives none: common practice, no source. */
const USUAL_DEG: Readonly<Partial<Record<FunctionId, NumberPair>>> = {
  Pan: [-270, 270],
  Tilt: [-135, 135],
  Zoom: [10, 45],
  ShaperRot: [-45, 45],
};

interface TravelAngles {
  readonly ends: NumberPair;
  readonly guessed: boolean;
  readonly remarks: readonly string[];
}

/** The standard's default of 0 to 1 degree is no angle but a blank; angles counted from one end have their middle at nothing. */
const anglesOf = (id: FunctionId, { physical: [from, to], measured }: ClaimedPart): TravelAngles => {
  const span = Math.abs(to - from);
  if (!measured || !isPlausible(id, Math.min(from, to), Math.max(from, to)))
    return { ends: USUAL_DEG[id] ?? [0, 100], guessed: true, remarks: [] };
  const counted = isAxisFunction(id) && (from === 0 || to === 0) && span > 180;
  if (!counted) return { ends: [sixDigits(from), sixDigits(to)], guessed: false, remarks: [] };
  const middle = (from + to) / 2;
  return {
    ends: [sixDigits(from - middle), sixDigits(to - middle)],
    guessed: false,
    remarks: [`the file counts ${from} to ${to}: taken from the middle`],
  };
};

/** Axes that hardly move, or move on for ever, and beams that are none, are other measures written as degrees (judgement). */
const isPlausible = (id: FunctionId, least: number, most: number): boolean => {
  if (id === "Zoom") return least >= 0.5 && most <= 110 && most > least;
  return most - least >= (id === "ShaperRot" ? 5 : 20) && most - least <= 1440;
};

/** Starter values of fixtures in good order: common practice, no source. */
const USUAL_TRAVEL_S = 0.5;
const USUAL_LAG_S = 0.2;
const USUAL_SHARP_PCT = 55;
const USUAL_S: Readonly<Partial<Record<FunctionId, Readonly<Record<WeightClass, number>>>>> = {
  Pan: { light: 2, medium: 2.6, heavy: 3.4 },
  Tilt: { light: 1.2, medium: 1.6, heavy: 2.2 },
  Zoom: { light: 0.8, medium: 1.2, heavy: 1.5 },
  Focus1: { light: 0.8, medium: 1.2, heavy: 1.5 },
  Dimmer: { light: 0.3, medium: 0.3, heavy: 0.3 },
  ShaperRot: { light: 0.9, medium: 0.9, heavy: 1.2 },
};
const usualTime = (id: FunctionId, weight: WeightClass): number => USUAL_S[id]?.[weight] ?? USUAL_TRAVEL_S;

/** GDTF gives shares from 0 to 1; other measures keep only their direction. */
const inPercent = ([from, to]: NumberPair): NumberPair => {
  if (from === to) return [0, 100];
  if (isShare(from) && isShare(to)) return [sixDigits(from * 100), sixDigits(to * 100)];
  return from <= to ? [0, 100] : [100, 0];
};

const isShare = (value: number): boolean => value >= 0 && value <= 1;

const percentWords = ({ physical: [from, to] }: ClaimedPart): readonly string[] => {
  if (from === to) return [`both ends stand at ${from} in the file: the levels are taken as 0 to 100`];
  return isShare(from) && isShare(to) ? [] : [`percent stand for ${from} to ${to} in the file`];
};

/** Where it stands by default, inside its travel. */
const restOf = (travel: Scale, initial: Raw): number => {
  const raw = Math.min(travel.high, Math.max(travel.low, initial));
  return shortest(physicalOf(travel, raw), (shorter) => rawOf(travel, shorter) === raw);
};

/** A number as short as it can be written and still mean the same to `same`. */
const shortest = (value: number, same: (shorter: number) => boolean): number => {
  for (let digits = 0; digits < 12; digits++) {
    const shorter = Number(value.toFixed(digits));
    if (same(shorter)) return shorter;
  }
  return value;
};

/** `value` to six significant digits, in its own unit: more than any chart means. */
export const sixDigits = (value: number): number => Number(value.toPrecision(6));

import type { BandMeaning } from "../profile.ts";
import { type BandFile, bandOver, completed, type Piece, piecesOf } from "./bands.ts";
import type { Claim, ClaimedPart } from "./claims.ts";
import type { WheelSlot } from "./description.ts";
import { type Drafted, type NotDrafted, rounded } from "./drafted.ts";

type Wheels = ReadonlyMap<string, readonly WheelSlot[]>;

/** A shutter with its strobe: bands of "closed", "open" and "strobe". */
export const shutterFrom = (claim: Claim): Drafted | NotDrafted => leafOf(claim, (_, piece) => shutterMeaning(piece));

/** A prism or frost that is in the beam or out of it. */
export const insertFrom = (claim: Claim, wheels: Wheels): Drafted | NotDrafted =>
  leafOf(claim, (part, piece) => insertMeaning(part, piece, wheels.get(part.wheel ?? "")));

/** True when the stretches of a leaf move it step by step: a frost that slides in is a travel. */
export const slides = ({ parts }: Claim): boolean =>
  parts.every((part) =>
    piecesOf(part).every(({ physical: [from, to], wheelSlot }) => from !== to && wheelSlot === undefined),
  );

type MeaningOf = (part: ClaimedPart, piece: Piece) => BandMeaning | undefined;

interface Told {
  readonly piece: Piece;
  readonly is: BandMeaning | undefined;
}

const leafOf = ({ id, channel, parts }: Claim, meaningOf: MeaningOf): Drafted | NotDrafted => {
  const bytes = channel.slots.length;
  const told = parts.flatMap((part): readonly Told[] =>
    part.role === "strobe"
      ? [{ piece: { ...part, wheelSlot: undefined }, is: "strobe" }]
      : piecesOf(part).map((piece) => ({ piece, is: meaningOf(part, piece) })),
  );
  const bands = told.flatMap(({ piece, is }) =>
    is === undefined ? [] : bandOver(piece, bytes, is).map((band) => ({ ...band, ...speedOf(is, piece) })),
  );
  const full = [...bands, ...endsOf(told, bands, bytes, id === "Shutter1" ? ["closed", "open"] : ["out", "in"])];
  const [coarse] = channel.slots;
  if (full.length === 0 || coarse === undefined) return { why: "no stretch of it says what it does" };
  return { spec: { slots: [coarse], bands: [...completed(full)] }, remarks: [], measure: ["move_s"] };
};

const speedOf = (is: BandMeaning, { physical: [from, to] }: Piece): Partial<BandFile> =>
  is === "strobe" && from > 0 && to > 0 ? { from_hz: rounded(from), to_hz: rounded(to) } : {};

/** A stretch that runs evenly from one to the other has both at its ends; they serve where no stretch is wholly one of them. */
const endsOf = (
  told: readonly Told[],
  bands: readonly BandFile[],
  bytes: number,
  [low, high]: readonly [BandMeaning, BandMeaning],
): readonly BandFile[] => {
  const sliding = told.find(({ piece, is }) => is === undefined && constant(piece) === undefined)?.piece;
  const span = sliding && bandOver(sliding, bytes, "nothing")[0];
  if (!sliding || !span || span.from === span.to) return [];
  const rises = sliding.physical[0] < sliding.physical[1];
  const ends: readonly BandFile[] = [
    { from: span.from, to: span.from, is: rises ? low : high },
    { from: span.to, to: span.to, is: rises ? high : low },
  ];
  return ends.filter(({ is }) => !bands.some((band) => band.is === is));
};

const constant = ({ physical: [from, to] }: Piece): number | undefined => (from === to ? from : undefined);

const shutterMeaning = (piece: Piece): BandMeaning | undefined => {
  const value = constant(piece);
  if (value !== undefined) return value <= 0 ? "closed" : value >= 1 ? "open" : undefined;
  if (EFFECT.test(piece.name)) return undefined;
  if (/\b(closed?|shut|blackout)\b/i.test(piece.name)) return "closed";
  return /\bopen\b/i.test(piece.name) ? "open" : undefined;
};
const EFFECT = /strobe|pulse|random|ramp|effect/i;

/** The wheel of a prism tells best: a slot with facets is a prism. Else what the set says, by its value or its name. */
const insertMeaning = (
  part: ClaimedPart,
  piece: Piece,
  slots: readonly WheelSlot[] | undefined,
): BandMeaning | undefined => {
  const slot = piece.wheelSlot === undefined ? undefined : slots?.[piece.wheelSlot - 1];
  if (slot) return slot.facets > 0 ? "in" : "out";
  const value = constant(piece);
  if (value !== undefined) return value <= 0 ? "out" : "in";
  // The name that every function has by default says only what it is for.
  if (piece.name.startsWith(part.attribute)) return undefined;
  if (/\b(open|out|off|no)\b/i.test(piece.name)) return "out";
  return /\b(in|on)\b|prism|frost/i.test(piece.name) ? "in" : undefined;
};

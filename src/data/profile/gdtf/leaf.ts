import type { BandMeaning } from "../profile.ts";
import type { BandFile } from "../schema.ts";
import type { ChannelClaim, ClaimedPart } from "./claims.ts";
import type { WheelSlot } from "./description.ts";
import { NO_FEATURE } from "./read-functions.ts";
import { bandOver, type ChannelPiece, completed, piecesOf } from "./stretches.ts";
import { type Drafted, type NotDrafted, sixDigits } from "./travel.ts";

type Wheels = ReadonlyMap<string, readonly WheelSlot[]>;

/** A shutter with its strobe: bands of "closed", "open" and "strobe". */
export const shutterFrom = (claim: ChannelClaim): Drafted | NotDrafted => {
  const told = toldOf(claim, (part, piece) => shutterMeaning(part, piece));
  const found = bandsOf(claim, told);
  const full = [...found, ...endsOf(claim, told, found, ["closed", "open"])];
  return draftOf(claim, [...full, ...(full.some(({ is }) => is === "open") ? [] : openBesideStrobe(claim))], SHUTTER_S);
};

/** A prism or frost that is in the beam or out of it. */
export const insertFrom = (claim: ChannelClaim, wheels: Wheels): Drafted | NotDrafted => {
  const told = secondThought(toldOf(claim, (part, piece) => insertMeaning(part, piece, wheels.get(part.wheel ?? ""))));
  const found = bandsOf(claim, told);
  const full = [...found, ...endsOf(claim, told, found, ["out", "in"])];
  return full.some(({ is }) => is === "in")
    ? draftOf(claim, full, INSERT_S)
    : { why: "no stretch of it says where it is in the beam" };
};

/** Where all are out by their values, yet only some by their names, the others are in: 0 was only never filled in. */
const secondThought = (told: readonly ToldLeaf[]): readonly ToldLeaf[] =>
  told.some(({ piece, is }) => is === "out" && says(OUT, piece.name)) && !told.some(({ is }) => is === "in")
    ? told.map((one) => (one.piece.name === "" || says(OUT, one.piece.name) ? one : { ...one, is: "in" }))
    : told;

/** Usual times of one change: common practice, no source. */
const SHUTTER_S = 0.1;
const INSERT_S = 0.6;

/** True when the stretches of a leaf move it step by step: a frost that slides in is a travel. */
export const slides = ({ parts }: ChannelClaim): boolean =>
  parts.every((part) =>
    piecesOf(part).every(({ physical: [from, to], wheelSlot }) => from !== to && wheelSlot === undefined),
  );

interface ToldLeaf {
  readonly piece: ChannelPiece;
  readonly is: BandMeaning | undefined;
}

const toldOf = (
  { parts }: ChannelClaim,
  meaningOf: (part: ClaimedPart, piece: ChannelPiece) => BandMeaning | undefined,
): readonly ToldLeaf[] =>
  parts.flatMap((part): readonly ToldLeaf[] => {
    const pieces = piecesOf(part);
    const plain = pieces.map((piece) => ({ piece, is: meaningOf(part, piece) }));
    if (part.role !== "strobe") return plain;
    // Among the sets of a strobe one may say that it does not strobe; all else beats.
    const still = plain.filter(({ is }) => is === "open" || is === "closed");
    return still.length > 0
      ? plain.map(({ piece, is }) => ({ piece, is: is ?? ("strobe" as const) }))
      : [{ piece: { ...part, wheelSlot: undefined }, is: "strobe" }];
  });

const bandsOf = ({ channel }: ChannelClaim, told: readonly ToldLeaf[]): readonly BandFile[] =>
  told.flatMap(({ piece, is }) =>
    is === undefined
      ? []
      : bandOver(piece, channel.slots.length, is).map((band) => ({ ...band, ...speedOf(is, piece) })),
  );

const speedOf = (is: BandMeaning, { physical: [from, to] }: ChannelPiece): Partial<BandFile> =>
  is === "strobe" && from > 0 && to > 0 ? { from_hz: sixDigits(from), to_hz: sixDigits(to) } : {};

const draftOf = ({ channel }: ChannelClaim, bands: readonly BandFile[], move_s: number): Drafted | NotDrafted => {
  const [coarse] = channel.slots;
  if (coarse === undefined || !bands.some(({ is }) => MEANT.includes(is)))
    return { why: "no stretch of it says what it does" };
  return { spec: { slots: [coarse], bands: [...completed(bands)], move_s }, remarks: [], measure: ["move_s"] };
};

const MEANT: readonly BandMeaning[] = ["closed", "open", "in", "out"];

/** A stretch that runs evenly from one to the other has both at its ends; they serve where no stretch is wholly one of them. */
const endsOf = (
  { channel }: ChannelClaim,
  told: readonly ToldLeaf[],
  bands: readonly BandFile[],
  [low, high]: readonly [BandMeaning, BandMeaning],
): readonly BandFile[] => {
  const sliding = told.find(({ piece, is }) => is === undefined && constant(piece) === undefined)?.piece;
  const span = sliding && bandOver(sliding, channel.slots.length, "nothing")[0];
  if (!sliding || !span || span.from === span.to) return [];
  const rises = sliding.physical[0] < sliding.physical[1];
  const ends: readonly BandFile[] = [
    { from: span.from, to: span.from, is: rises ? low : high },
    { from: span.to, to: span.to, is: rises ? high : low },
  ];
  return ends.filter(({ is }) => !bands.some((band) => band.is === is));
};

const constant = ({ physical: [from, to] }: ChannelPiece): number | undefined => (from === to ? from : undefined);

/** A slot that only strobes is open where it does nothing, or where its beat begins at none. */
const openBesideStrobe = ({ channel, parts }: ChannelClaim): readonly BandFile[] => {
  if (!parts.some(({ role }) => role === "strobe")) return [];
  const bytes = channel.slots.length;
  const still = channel.functions.find(({ attribute, condition }) => attribute === NO_FEATURE && !condition);
  if (still) return bandOver(still, bytes, "open");
  const first = parts.find(({ role, from, physical }) => role === "strobe" && from === 0 && physical[0] === 0);
  return first ? [{ from: 0, to: 0, is: "open" }] : [];
};

/** Its name tells best, be it the set's or, where that has none, the function's; else a value of 0 or 1. */
const shutterMeaning = (part: ClaimedPart, piece: ChannelPiece): BandMeaning | undefined => {
  const name = piece.name || part.name;
  if (says(NO_STROBE, name)) return "open";
  if (says(EFFECT, name)) return undefined;
  const [opens, closes] = [says(OPEN, name), says(CLOSED, name)];
  if (opens !== closes) return opens ? "open" : "closed";
  const value = part.role === "strobe" ? undefined : constant(piece);
  return value === undefined ? undefined : value <= 0 ? "closed" : value >= 1 ? "open" : undefined;
};

const says = (words: RegExp, name: string): boolean => words.test(name.normalize("NFKD").replace(/\p{M}/gu, ""));

/** Words of a language stand alone; a number may follow at once, as in "Open2". */
const words = (list: string): RegExp => new RegExp(`(?<!\\p{L})(${list})(?!\\p{L})`, "iu");
const NO_STROBE = words(
  "no strobe|strobe off|strobe open|without strobe|kein strobe|strobe aus|no strobing|non strobe",
);
const EFFECT =
  /strobe|puls|random|rnd|ramp|effect|blitz|flash|lightning|slow|fast|spike|burst|opening|closing|stroboscop/iu;
/** English, German, French, Italian, Spanish, Portuguese, Dutch, Swedish, Czech, Polish, Russian, Chinese. */
const OPEN = words(
  "open|opened|shutteropen|offen|auf|geoffnet|ouvert|ouverte|aperto|abierto|aberto|oppen|otevreno|otevren[ya]?|otwart[ya]|открыто?|full on|lamp on",
);
const CLOSED = words(
  "close|closed|shut|shutterclosed?|black ?out|dark|zu|geschlossen|ferme|fermee|chiuso|cerrado|fechado|dicht|gesloten|stangd|zavreno|zavren[ya]?|zamkniet[ya]|закрыто?",
);

/** The wheel of a prism tells best: a slot with facets is a prism. Else what the set says, by its value or its name. */
const insertMeaning = (
  part: ClaimedPart,
  piece: ChannelPiece,
  slots: readonly WheelSlot[] | undefined,
): BandMeaning | undefined => {
  const slot = piece.wheelSlot === undefined ? undefined : slots?.[piece.wheelSlot - 1];
  if (slot && slots?.some(({ facets }) => facets > 0)) return slot.facets > 0 ? "in" : "out";
  const named = namedInsert(part, piece);
  if (named) return named;
  const value = constant(piece);
  return value === undefined ? undefined : value <= 0 ? "out" : "in";
};

const namedInsert = (part: ClaimedPart, { name }: ChannelPiece): BandMeaning | undefined => {
  // The name that every function has by default says only what it is for.
  const said = name === "" || name.startsWith(part.attribute) ? "" : name;
  if (says(OUT, said)) return "out";
  return says(IN, said) ? "in" : undefined;
};
const OUT = words("open|out|off|no|none|no prism|no frost|without|kein|aus|empty|not used|excluded");
const IN = words("in|on|prism|frost|insert|inserted|facet|facets|\\d+-?facets?|linear|circular|included|ein");

import type { WheelKind } from "../../../domain/trade/mechanisms.ts";
import type { BandFile, FunctionFile } from "../schema.ts";
import type { ChannelClaim, ClaimedPart } from "./claims.ts";
import type { MasterCondition, WheelSlot } from "./description.ts";
import { bandOver, type ChannelPiece, coarseOf, completed, piecesOf } from "./stretches.ts";
import { type Drafted, type NotDrafted, sixDigits } from "./travel.ts";

type Position = Extract<FunctionFile, { positions: unknown }>["positions"][number];

export interface WheelOrder {
  readonly kind: WheelKind;
  readonly wheels: ReadonlyMap<string, readonly WheelSlot[]>;
  /** What other channels ask of this one: only positions inside can be used, and the open one. */
  readonly needed: readonly MasterCondition[];
}

/** A wheel with its positions: a level where each begins, and the name of what stands there. */
export const wheelFrom = (
  { channel, parts }: ChannelClaim,
  { kind, wheels, needed }: WheelOrder,
): Drafted | NotDrafted => {
  const bytes = channel.slots.length;
  const shown = parts.flatMap((part) => placesOf(part, wheels.get(part.wheel ?? "")));
  const found = shown.flatMap(({ piece, is, slot }): readonly FoundPiece[] => {
    const stretch = coarseOf(piece, bytes);
    return stretch && is ? [{ at: stretch.from, is, slot, raw: piece.from }] : [];
  });
  const usable = found.filter((one) => isOpen(one) || needed.every(({ from, to }) => one.raw >= from && one.raw <= to));
  const once = usable.toSorted((a, b) => a.at - b.at).filter(isFirst);
  const positions = named(once);
  const [coarse] = channel.slots;
  if (positions.length < 2 || coarse === undefined)
    return { why: `it has ${positions.length} positions that can be told apart` };
  const fade = Math.max(...parts.map((part) => part.fade));
  const step_s = fade > 0 ? sixDigits(fade / (positions.length - 1)) : USUAL_STEP_S;
  return {
    spec: { slots: [coarse], wheel: kind, step_s, positions: [...positions] },
    remarks: [
      ...(fade > 0 ? ["step time from RealFade over all positions"] : []),
      ...leftOut("what turns on it does not hold there", found.length - usable.length),
      ...leftOut("they repeat a slot", usable.length - once.length),
      ...leftOut("they show no slot of the wheel", shown.length - found.length),
    ],
    measure: fade > 0 ? [] : ["step_s"],
  };
};

/** Common practice, no source. */
const USUAL_STEP_S = 0.15;

const leftOut = (why: string, count: number): readonly string[] =>
  count > 0 ? [`${count} ${count === 1 ? "set" : "sets"} left out: ${why}`] : [];

interface ShownPiece {
  readonly piece: ChannelPiece;
  readonly is: string | undefined;
  readonly slot: number | undefined;
}

/**
 * What stands where: by the index of the set; where no set of the function has one, by the names of its sets, which for as
 * many slots as sets are the wheel's in order. A function without sets is one position.
 */
const placesOf = (part: ClaimedPart, slots: readonly WheelSlot[] | undefined): readonly ShownPiece[] => {
  if (part.role === "turn") return standing(part);
  const pieces = part.sets.length > 0 ? part.sets : piecesOf(part);
  const indexed = pieces.some(({ wheelSlot }) => wheelSlot !== undefined);
  if (indexed && slots) return pieces.map((piece) => ({ piece, is: slotName(piece, slots), slot: piece.wheelSlot }));
  const inOrder = !indexed && slots !== undefined && slots.length === pieces.length;
  return pieces.map((piece, n) => {
    const slot = inOrder ? n + 1 : piece.wheelSlot;
    return { piece, is: (inOrder && slots[n]?.name) || plainName(part, piece), slot };
  });
};

/** A disc that turns as soon as it is in the beam is put where it stands still. */
const standing = (part: ClaimedPart): readonly ShownPiece[] =>
  eased(part, part.sets)
    .filter(({ name, physical: [from, to] }) => (from === 0 && to === 0) || /stop|still/i.test(name))
    .slice(0, 1)
    .map((piece) => ({ piece, is: "in the beam, still", slot: undefined }));

const slotName = ({ name, wheelSlot }: ChannelPiece, slots: readonly WheelSlot[]): string | undefined =>
  wheelSlot === undefined ? undefined : slots[wheelSlot - 1]?.name || name || `slot ${wheelSlot}`;

/** A name that only repeats the attribute, or says that a stretch spins or shakes, is no position. */
const plainName = (part: ClaimedPart, { name }: ChannelPiece): string | undefined => {
  const own = name.replace(/\s+\d+$/, "") === part.attribute || name === "";
  return own || /spin|scroll|rainbow|shake|rotat|slow|fast|random|min|max|audio|\bcw\b|\bccw\b|cont/i.test(name)
    ? undefined
    : name;
};

interface FoundPiece {
  readonly at: number;
  readonly is: string;
  readonly slot: number | undefined;
  readonly raw: number;
}

const isFirst = (one: FoundPiece, index: number, all: readonly FoundPiece[]): boolean =>
  all.findIndex((other) => other.at === one.at || (one.slot !== undefined && other.slot === one.slot)) === index;

const isOpen = ({ is }: Pick<FoundPiece, "is">): boolean => /^(open|empty|white|no |offen|clear|hole)/i.test(is);

/** One is called "open", and no two alike. */
const named = (found: readonly FoundPiece[]): readonly Position[] => {
  const open = found.find(isOpen) ?? found.find(({ slot }) => slot === 1);
  const taken = new Set<string>();
  return found.map((one) => {
    const wanted = one === open ? "open" : one.is;
    let is = wanted;
    for (let n = 2; taken.has(is.toLowerCase()); n++) is = `${wanted} ${n}`;
    taken.add(is.toLowerCase());
    return { at: one.at, is };
  });
};

/** A gobo or prism on its own axle: angles in degrees, turning in degrees a second, which become turns a minute. */
export const rotationFrom = ({ channel, parts }: ChannelClaim): Drafted | NotDrafted => {
  const bytes = channel.slots.length;
  const bands = parts.flatMap((part) =>
    part.role === "index"
      ? bandOver(part, bytes, "index").map((band) => ({ ...band, ...angles(part) }))
      : eased(part, piecesOf(part)).flatMap((piece) => turningOf(part, piece, bytes)),
  );
  const [coarse] = channel.slots;
  if (bands.length === 0 || coarse === undefined) return { why: "no stretch of it says what it does" };
  const guessed = parts.some(({ measured }) => !measured);
  return {
    spec: { slots: [coarse], bands: [...completed(bands)] },
    remarks: guessed ? ["the file gives no angles or speeds: usual ones stand here"] : [],
    measure: guessed ? ["bands"] : [],
  };
};

/** A whole turn, and a usual fastest turn of one in two seconds: common practice, no source. */
const USUAL_ANGLES = [0, 360] as const;
const USUAL_SPEEDS = [180, 6] as const;

const angles = ({ physical, measured }: ClaimedPart): Partial<BandFile> => {
  const [from, to] = measured && physical[0] !== physical[1] ? physical : USUAL_ANGLES;
  return { from_deg: sixDigits(from), to_deg: sixDigits(to) };
};

/** A set without values of its own, between two that have one each, leads evenly from the one to the other. */
const eased = (part: ClaimedPart, pieces: readonly ChannelPiece[]): readonly ChannelPiece[] =>
  pieces.map((piece, n) => {
    const inherits = piece.physical[0] === part.physical[0] && piece.physical[1] === part.physical[1];
    const [before, after] = [pieces[n - 1]?.physical, pieces[n + 1]?.physical];
    if (pieces.length === 1 || !inherits || !isOne(before ?? part.physical.slice(0, 1)) || !isOne(after ?? []))
      return piece;
    const [start, end] = [before?.[1] ?? part.physical[0], after?.[0] ?? part.physical[1]];
    return { ...piece, physical: [start, end] as const };
  });

const isOne = (values: readonly number[]): boolean => new Set(values).size <= 1;

/** A turn a minute is 6 degrees a second. */
const DEGREES_A_SECOND = 6;

/** Where the speed passes through nothing there is a stop, and turning the one way before it, the other way after it. */
const turningOf = (part: ClaimedPart, piece: ChannelPiece, bytes: number): readonly BandFile[] => {
  const [span] = bandOver(piece, bytes, "turn");
  if (!span) return [];
  const said = piece.physical[0] !== 0 || piece.physical[1] !== 1;
  const [start, end] = said ? piece.physical : part.measured ? part.physical : USUAL_SPEEDS;
  if ((start === 0 && end === 0) || /^(stop|no rot)/i.test(piece.name)) return [{ ...span, is: "stop" }];
  if (start * end > 0 || span.from === span.to) return [{ ...span, from_rpm: rpm(start), to_rpm: rpm(end) }];
  const speedAt = (level: number): number => start + ((end - start) * (level - span.from)) / (span.to - span.from);
  const still = Math.round(span.from + ((span.to - span.from) * -start) / (end - start));
  const stretches = [
    { from: span.from, to: still - 1 },
    { from: still + 1, to: span.to },
  ].filter((stretch) => stretch.from <= stretch.to);
  return [
    { from: still, to: still, is: "stop" },
    ...stretches.map(
      (stretch): BandFile => ({
        ...stretch,
        is: "turn",
        from_rpm: rpm(speedAt(stretch.from)),
        to_rpm: rpm(speedAt(stretch.to)),
      }),
    ),
  ];
};

const rpm = (degreesASecond: number): number => sixDigits(degreesASecond / DEGREES_A_SECOND);

import type { Level } from "../../../domain/units.ts";
import type { BandMeaning, Raw } from "../profile.ts";
import type { BandFile } from "../schema.ts";
import type { ChannelSet } from "./description.ts";

/** A stretch of a channel function with its physical values: one of its sets, or all of it where it has none. */
export type ChannelPiece = Pick<ChannelSet, "name" | "from" | "to" | "physical" | "wheelSlot">;

/** A stretch of the coarse slot, both ends included. */
export interface Stretch {
  readonly from: Level;
  readonly to: Level;
}

/**
 * The levels of the coarse slot that lie in a stretch of the whole channel while its fine slots stand at 0;
 * undefined where none does. Shutters, wheels and commands are driven by the coarse slot alone. `bytes` is the
 * number of bytes of the channel, 1 to 4.
 */
export const coarseOf = (
  { from, to }: { readonly from: Raw; readonly to: Raw },
  bytes: number,
): Stretch | undefined => {
  const step = 256 ** (bytes - 1);
  const stretch = { from: Math.ceil(from / step), to: Math.floor(to / step) };
  return stretch.from <= stretch.to ? stretch : undefined;
};

/** The level in the middle of a stretch, the lower one where there are two. */
export const middleOf = ({ from, to }: Stretch): Level => Math.floor((from + to) / 2);

/** The sets of a function; before, between and after them whatever they leave of it. */
export const piecesOf = (
  part: Omit<ChannelPiece, "wheelSlot"> & { readonly sets: readonly ChannelSet[] },
): readonly ChannelPiece[] => {
  const [first] = part.sets;
  const whole = { ...part, wheelSlot: undefined };
  if (!first) return [whole];
  return first.from > part.from ? [{ ...whole, name: "", to: first.from - 1 }, ...part.sets] : part.sets;
};

/**
 * A band over the coarse levels of a piece; none where the fine slots alone would tell it apart. `bytes` is the
 * number of bytes of the channel, 1 to 4.
 */
export const bandOver = (
  piece: Pick<ChannelPiece, "from" | "to">,
  bytes: number,
  is: BandMeaning,
): readonly BandFile[] => {
  const stretch = coarseOf(piece, bytes);
  return stretch ? [{ ...stretch, is }] : [];
};

/**
 * The bands in order, none over another: neighbours of one meaning are joined, and what nothing covers is named as such.
 */
export const completed = (bands: readonly BandFile[]): readonly BandFile[] => {
  const sorted = joined(apart(bands.toSorted((a, b) => a.from - b.from)));
  const gaps = [...sorted, { from: 256 }].map(({ from }, n) => ({ from: (sorted[n - 1]?.to ?? -1) + 1, to: from - 1 }));
  return [...sorted, ...gaps.filter(isStretch).map((gap) => ({ ...gap, is: "nothing" as const }))].toSorted(
    (a, b) => a.from - b.from,
  );
};

const isStretch = ({ from, to }: Stretch): boolean => from <= to;

/** Functions under different conditions, read as if they always held, may overlap: the earlier one keeps its levels. */
const apart = (bands: readonly BandFile[]): readonly BandFile[] => {
  const all: BandFile[] = [];
  for (const band of bands) {
    const from = Math.max(band.from, (all.at(-1)?.to ?? -1) + 1);
    if (from <= band.to) all.push({ ...band, from });
  }
  return all;
};

const joined = (bands: readonly BandFile[]): readonly BandFile[] => {
  const all: BandFile[] = [];
  for (const band of bands) {
    const last = all.at(-1);
    const goesOn = last && last.is === band.is && PLAIN.includes(band.is) && last.to + 1 === band.from;
    if (goesOn) all[all.length - 1] = { ...last, to: band.to };
    else all.push(band);
  }
  return all;
};

/** Bands that mean the same at all their levels. */
const PLAIN: readonly BandMeaning[] = ["closed", "open", "out", "in", "stop", "nothing"];

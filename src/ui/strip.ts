import type { Place } from "./told.ts";

/** Along the travel of a function: where it is told to be and, where somebody can know, where it is. */
export interface Marked {
  readonly label: string;
  readonly told: Place;
  /** Only the simulated fixture says where it really is. */
  readonly seen: Place | undefined;
}

/** Columns for the words behind a strip. */
const WORDS = 26;

/** "pan  [-------|---O-----------]  -34 degrees": one row each, labels and strips under each other. */
export const stripRows = (
  marks: readonly Marked[],
  columns: number,
  detail: "plain" | "with the gap enlarged" = "plain",
): readonly string[] => {
  const label = Math.max(detail === "plain" ? 0 : GAP.length, ...marks.map((mark) => mark.label.length));
  const inner = columns - label - WORDS - 6;
  const row = (name: string, strip: string, words: string) => `${name.padEnd(label)}  [${strip}]  ${words}`.trimEnd();
  return marks.flatMap((mark) => {
    const gap = detail === "plain" ? undefined : gapStrip(mark, inner);
    const words = (mark.seen?.words || mark.told.words).slice(0, WORDS);
    return [row(mark.label, stripOf(mark, inner), words), ...(gap === undefined ? [] : [row(GAP, gap, "")])];
  });
};

const GAP = "gap";
/** Of the travel, to either side of the mark. */
const FARTHEST = 0.15;

/**
 * How far it is from where it is told to be, the mark kept in the middle: small gaps much enlarged, large ones less, so that a
 * hesitation, a swing or a tremble shows beside an even lag. Undefined while it turns on and on.
 */
export const gapStrip = ({ told, seen }: Pick<Marked, "told" | "seen">, width: number): string | undefined => {
  if (told.share === undefined || seen?.share === undefined) return undefined;
  const middle = Math.floor((width - 1) / 2);
  const gap = seen.share - told.share;
  const enlarged = Math.sign(gap) * Math.sqrt(Math.min(1, Math.abs(gap) / FARTHEST));
  const cells = Array.from({ length: width }, () => "-");
  cells[middle] = "|";
  cells[middle + Math.round(enlarged * middle)] = "O";
  return cells.join("");
};

export const stripOf = ({ told, seen }: Pick<Marked, "told" | "seen">, width: number): string => {
  const cells = Array.from({ length: width }, () => "-");
  const put = (place: Place | undefined, mark: string) => {
    if (place?.share === undefined) return;
    cells[Math.round(Math.min(1, Math.max(0, place.share)) * (width - 1))] = mark;
  };
  put(told, "|");
  put(seen, "O");
  return cells.join("");
};

/** A strip to be seen from three metres: a block of three columns, two rows high. */
export const tallStrip = ({ told, seen }: Pick<Marked, "told" | "seen">, width: number): readonly string[] => {
  const share = (seen ?? told).share;
  if (share === undefined) return [];
  const at = Math.round(Math.min(1, Math.max(0, share)) * (width - 3));
  const row = `[${" ".repeat(at)}███${" ".repeat(width - 3 - at)}]`;
  return [row, row];
};

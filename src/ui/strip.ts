import { cut } from "../reports/wrap.ts";
import type { TravelPlace } from "./told.ts";

/** Along the travel of a function: the commanded position and, where somebody can know it, the actual one. */
export interface Marked {
  readonly label: string;
  readonly told: TravelPlace;
  /** Only the simulated fixture says where it really is. */
  readonly seen: TravelPlace | undefined;
}

/** Columns for the words behind a strip. */
const WORDS = 26;

/**
 * A strip in a row for each mark: "pan  [-------|---O-----------]  -34 degrees"; labels and strips are under each
 * other, and no row is longer than `columns`.
 */
export const stripRows = (
  marks: readonly Marked[],
  columns: number,
  detail: "plain" | "with the lag enlarged" = "plain",
): readonly string[] => {
  const label = Math.max(detail === "plain" ? 0 : LAG.length, ...marks.map((mark) => mark.label.length));
  const inner = columns - label - WORDS - 6;
  const row = (name: string, strip: string, words: string) => `${name.padEnd(label)}  [${strip}]  ${words}`.trimEnd();
  return marks.flatMap((mark) => {
    const lag = detail === "plain" ? undefined : lagStrip(mark, inner);
    const words = cut(mark.seen?.words || mark.told.words, WORDS);
    return [row(mark.label, stripOf(mark, inner), words), ...(lag === undefined ? [] : [row(LAG, lag, "")])];
  });
};

const LAG = "lag";
/** The share of the travel that is shown to either side of the mark. */
const FARTHEST = 0.15;

/**
 * How far the actual position is from the commanded one, the mark kept in the middle of `width` columns: a
 * small lag much enlarged, a large one less, so that a hesitation, a swing or a tremble shows beside an even
 * lag. Undefined while it turns on and on.
 */
export const lagStrip = ({ told, seen }: Pick<Marked, "told" | "seen">, width: number): string | undefined => {
  if (told.share === undefined || seen?.share === undefined) return undefined;
  const middle = Math.floor((width - 1) / 2);
  const lag = seen.share - told.share;
  const enlarged = Math.sign(lag) * Math.sqrt(Math.min(1, Math.abs(lag) / FARTHEST));
  const cells = Array.from({ length: width }, () => "-");
  cells[middle] = "|";
  cells[middle + Math.round(enlarged * middle)] = "O";
  return cells.join("");
};

/** The travel as a strip of `width` columns, with a mark where it is commanded to be and one where it is. */
export const stripOf = ({ told, seen }: Pick<Marked, "told" | "seen">, width: number): string => {
  const cells = Array.from({ length: width }, () => "-");
  const put = (place: TravelPlace | undefined, mark: string) => {
    if (place?.share === undefined) return;
    cells[Math.round(Math.min(1, Math.max(0, place.share)) * (width - 1))] = mark;
  };
  put(told, "|");
  put(seen, "O");
  return cells.join("");
};

/**
 * A strip to be seen from three metres, `width` columns long: a block of three columns, two rows
 * high. No row where the place is not known.
 */
export const tallStrip = ({ told, seen }: Pick<Marked, "told" | "seen">, width: number): readonly string[] => {
  const share = (seen ?? told).share;
  if (share === undefined) return [];
  const at = Math.round(Math.min(1, Math.max(0, share)) * (width - 3));
  const row = `[${" ".repeat(at)}███${" ".repeat(width - 3 - at)}]`;
  return [row, row];
};

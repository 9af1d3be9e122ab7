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
export const stripRows = (marks: readonly Marked[], columns: number): readonly string[] => {
  const label = Math.max(0, ...marks.map((mark) => mark.label.length));
  const inner = columns - label - WORDS - 6;
  return marks.map((mark) => {
    const words = (mark.seen?.words || mark.told.words).slice(0, WORDS);
    return `${mark.label.padEnd(label)}  [${stripOf(mark, inner)}]  ${words}`;
  });
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

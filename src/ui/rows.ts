import { cut, padded, widthOf, wrapped } from "../reports/wrap.ts";

/** One row of the screen. The look only helps: what it says is in the words. */
export interface Row {
  readonly text: string;
  readonly look: "plain" | "strong" | "faint" | "alert";
  /** What can be left out first when there is no room: 0 before 1; 2 stays. */
  readonly keep: 0 | 1 | 2;
}

/** Pages that say themselves what is wrong with the line. */
export const ABOUT_LINE: readonly string[] = ["line-lost", "other-interface"];

export const BLANK: Row = { text: "", look: "plain", keep: 0 };
export const MARGIN = 2;

/** Sentences over as many rows as they need. */
export const said = (
  text: string,
  columns: number,
  look: Row["look"] = "plain",
  keep: Row["keep"] = 2,
): readonly Row[] => (text === "" ? [] : wrapped(text, columns - 2 * MARGIN).map((line) => asRow(line, look, keep)));

export const asRow = (text: string, look: Row["look"] = "plain", keep: Row["keep"] = 2): Row => ({
  text: " ".repeat(MARGIN) + text,
  look,
  keep,
});

/** As a sentence begins. */
export const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** Words at the left and at the right edge; the left ones give way. */
export const edges = (left: string, right: string, columns: number, look: Row["look"]): Row => {
  const room = columns - 2 * MARGIN - widthOf(right) - 2;
  return asRow(`${padded(cut(left, room), room)}  ${right}`, look);
};

/** At most so many rows: blank ones go first, from below, then what can be spared; the rest is cut. */
export const fitted = (rows: readonly Row[], most: number): readonly Row[] => {
  let left = [...rows];
  for (const keep of [0, 1] as const)
    while (left.length > most) {
      const index = left.findLastIndex((row) => row.keep === keep);
      if (index < 0) break;
      left = left.toSpliced(index, 1);
    }
  return left.slice(0, most);
};

import type { Marked } from "./strip.ts";

/**
 * What a page says, as data: nothing is wrapped, cut or set in. `rows.ts` sets it in rows of a terminal, `sentences.ts` tells
 * it sentence by sentence, and whoever shows it elsewhere needs neither.
 */
export type Line = Words | Strips | TallStrip | Letters | DrawingLine | Gap;

/** A sentence, or one line of a list. */
export interface Words {
  readonly kind: "words";
  readonly role: LineRole;
  /** What stands before it, with what follows set in under it: "- ", "1  ", "good:  "; empty for a plain sentence. */
  readonly mark: string;
  readonly text: string;
  readonly look: Emphasis;
  readonly keep: Keep;
  /** How many rows of a terminal it may take. */
  readonly most: number;
}

/** The look only helps: what it says is in the words. */
export type Emphasis = "plain" | "strong" | "faint" | "alert";
/** What can be left out first when there is no room: 0 before 1; 2 stays. */
export type Keep = 0 | 1 | 2;

type LineRole =
  /** What is so, what is to be done, which other keys there are. */
  | "text"
  /** Over a list. */
  | "heading"
  /** One of a list; its mark is the digit that chooses it. */
  | "option"
  /** How to answer: not told before a key answers. */
  | "answer"
  /** What the marks of a drawing mean. */
  | "legend";

/** Where functions are along their travel: commanded and, where somebody can know, actual. */
interface Strips {
  readonly kind: "strips";
  readonly marks: readonly Marked[];
  readonly detail: "plain" | "with the lag enlarged";
}

/** The same of one function, to be seen from afar. */
interface TallStrip {
  readonly kind: "tall-strip";
  readonly mark: Marked;
}

/** Large letters that are read from afar, `high` rows at most. */
export interface Letters {
  readonly kind: "letters";
  readonly text: string;
  readonly high: number;
  readonly keep: Keep;
}

/** Drawn in rows as they are; whoever cannot see is told the words instead. */
interface DrawingLine {
  readonly kind: "drawing";
  readonly rows: readonly string[];
  readonly words: readonly string[];
}

export interface Gap {
  readonly kind: "gap";
}

/** What a page is about, in capitals; `far` in as few letters as can be, for large ones. */
export interface Headline {
  readonly usual: string;
  readonly far: string;
}

/** All that the page of a rack says in one moment, besides its list of fixtures. */
export interface RackPageView {
  readonly headline: string;
  /** In as few letters as can be, for large ones. */
  readonly far: string;
  /** At the right edge of the first row. */
  readonly where: string;
  readonly above: readonly Line[];
  readonly below: readonly Line[];
}

/** Pages that say themselves what is wrong with the line. */
export const ABOUT_LINE: readonly string[] = ["line-lost", "other-interface"];

export const BLANK: Gap = { kind: "gap" };

/** A sentence; nothing where there is nothing to say. */
export const said = (text: string, look: Emphasis = "plain", keep: Keep = 2): readonly Words[] =>
  text === "" ? [] : [words("text", "", text, look, keep)];

/** A sentence under a mark, such as a bullet. */
export const marked = (mark: string, text: string, look: Emphasis = "plain", keep: Keep = 2): Words =>
  words("text", mark, text, look, keep);

/** One of a list, chosen by its `digit`, 0 to 9; "-" for one that cannot be chosen here. */
export const option = (digit: number | "-", text: string, look: Emphasis = "plain"): Words =>
  words("option", `${digit}  `, text, look, 2);

/** The heading over some lines. */
export const heading = (text: string): Words => words("heading", "", text, "strong", 2);
/** A line that explains a drawing above it. */
export const legend = (text: string): Words => words("legend", "", text, "faint", 1);

/** Marks lines as those that say how to answer: they are shown once a key answers. */
export const toAnswer = (lines: readonly Words[]): readonly Words[] =>
  lines.map((line) => ({ ...line, role: "answer" }));

/** Lets each of these lines take `most` rows of a terminal at most. */
export const atMost = (most: number, lines: readonly Words[]): readonly Words[] =>
  lines.map((line) => ({ ...line, most }));

const words = (role: LineRole, mark: string, text: string, look: Emphasis, keep: Keep): Words => ({
  kind: "words",
  role,
  mark,
  text,
  look,
  keep,
  most: Number.POSITIVE_INFINITY,
});

/** A text that begins with a capital letter, as a sentence does. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

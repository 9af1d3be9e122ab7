import type { Leafing } from "./fixture-keys.ts";
import type { Marked } from "./strip.ts";

/**
 * All that a page says in one moment, of one fixture or of many, as data: nothing is wrapped, cut or set in. `page.ts` sets it
 * in rows of a terminal, `sentences.ts` tells it sentence by sentence, and whoever shows it elsewhere needs neither.
 */
export interface PageView {
  /** What is asked, for an answer to name; undefined while nothing is. */
  readonly question: string | undefined;
  /** Which fixture it is, or which rack, and at which step. */
  readonly title: string;
  readonly where: string;
  readonly headline: Headline;
  /** What stands above it all: what is run, trouble, a key that did not answer, a rest that is due. */
  readonly notes: readonly Line[];
  readonly lines: readonly Line[];
  /** The answers one by one, with the keys that would give them. */
  readonly choices: readonly Choice[];
  /** The key of its own that the page wants before something moves or has power; undefined on any other page. */
  readonly guard: string | undefined;
  /** A key that comes now answers; before, nobody can have read the page. */
  readonly listening: boolean;
}

/** One answer that the three buttons can give: its words, and the keys that would give it at a keyboard. */
export interface Choice {
  readonly words: string;
  readonly keys: readonly string[];
}

export type Line = Words | Strips | TallStrip | Letters | FixtureList | DrawingLine | Gap;

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

/** All fixtures of a rack in a row each, under one another. */
export interface FixtureList {
  readonly kind: "fixtures";
  readonly rows: readonly FixtureRow[];
  /** How long the longest key of this rack is. */
  readonly keyWidth: number;
  readonly which: "all" | "that stand out";
  /** What is done where there is no room for all: pages to be leafed through, or no more than serial numbers, shelf by shelf. */
  readonly crowded: "by pages" | "by shelf";
  readonly leafing: Leafing;
}

/** How one fixture of several is doing. */
export interface FixtureRow {
  /** Empty while it cannot be pressed for. */
  readonly key: string;
  readonly shelf: string;
  readonly position: string;
  readonly serial: string;
  readonly state: string;
  /** What was seen of it, or where in its travel it is and what it sounds like. */
  readonly detail:
    | { readonly kind: "words"; readonly words: string }
    | ({ readonly kind: "strip"; readonly words: string } & Pick<Marked, "told" | "seen">);
  readonly look: Emphasis;
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

/** What several fixtures that are watched together have on their page: what is so above their list, how to answer below it. */
export interface AroundList {
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

import { cut, hanging, padded, widthOf, wrapped } from "../reports/wrap.ts";
import { listRows } from "./fixture-list.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import { largeLetters } from "./large.ts";
import { pageView } from "./page-view.ts";
import { type Sight, stageIn } from "./sight.ts";
import { stripRows, tallStrip } from "./strip.ts";
import {
  type Emphasis,
  type Headline,
  type Keep,
  type Letters,
  type Line,
  type PageView,
  said,
  type Words,
} from "./view.ts";

/** One row of a terminal. */
export interface Row {
  readonly text: string;
  readonly look: Emphasis;
  readonly keep: Keep;
}

const NO_ROW: Row = { text: "", look: "plain", keep: 0 };
const MARGIN = 2;

/** What the screen needs. One row stays free: a full screen would be cleared at every drawing. */
export const LEAST = { columns: 80, rows: 24 } as const;

/** The whole screen, row by row; never more rows than the terminal has, less one. */
export const pageOf = (sight: Sight): readonly Row[] => {
  const { columns, rows } = sight.size;
  const inRows = (lines: readonly Line[]) => rowsOf(lines, columns, sight.listening);
  const view = pageView(sight);
  if (columns < LEAST.columns || rows < LEAST.rows) return fitted(inRows(tooSmall(sight, view)), Math.max(1, rows - 1));
  const head = [edges(view.title, view.where, columns, "plain"), ...inRows(view.notes)];
  const lines = [...view.lines, ...markLines(view, sight)];
  const around = inRows(lines.filter(({ kind }) => kind !== "fixtures"));
  const body = rowsOf(lines, columns, sight.listening, rows - 2 - needed([...head, ...around]));
  const spare = rows - 1 - needed([...head, ...body]);
  return fitted([...head, NO_ROW, ...headlineRows(view, sight, spare), NO_ROW, ...body], rows - 1);
};

/** How many rows cannot be left out. */
const needed = (rows: readonly Row[]): number => rows.filter(({ keep }) => keep === 2).length;

/** Says what is wrong and keeps the three buttons alive. */
const tooSmall = ({ size, plan, batch }: Sight, { headline }: PageView): readonly Line[] => {
  const isAlone = batch.stage.kind === "alone";
  const waits = isAlone && stageIn(batch).kind !== "moving";
  return [
    ...said(
      `This terminal has ${size.columns} columns and ${size.rows} rows. Make it ${LEAST.columns} by ${LEAST.rows}, or use --plain.`,
      "strong",
    ),
    ...said(waits ? "It waits for an answer." : `Now: ${headline.usual}.`),
    ...said(
      `${isAlone ? "Something wrong" : `One of ${batch.members.length} differs`}: ${anyOf(plan.press)}. Stop: ${anyOf(plan.stop)}.`,
    ),
  ];
};

/** Of one fixture, what the again button would take, so that it can be read from afar. Answers that name a fixture are too long for that. */
const markedHeadline = ({ choices }: PageView, { batch, desk, letters }: Sight): Headline | undefined => {
  if (letters === "usual" || batch.stage.kind !== "alone") return undefined;
  const marked = desk.mark === undefined ? undefined : choices[desk.mark];
  return marked && { usual: marked.words, far: marked.words };
};

/** Two lines of large letters, or one that is twice as large; where there is more to read, one line. */
const MOST_LARGE = { moving: 11, still: 5 };

/** What it is about, in capitals, or several rows high where there is room. */
const headlineRows = (view: PageView, sight: Sight, spare: number): readonly Row[] => {
  const { usual, far } = markedHeadline(view, sight) ?? view.headline;
  const { batch, size, letters } = sight;
  const most = MOST_LARGE[batch.stage.kind === "alone" && stageIn(batch).kind === "moving" ? "moving" : "still"];
  const room = size.columns - 2 * MARGIN;
  const large = letters === "usual" ? undefined : largeLetters(far, room, Math.min(spare, most));
  return large ? large.map((text) => asRow(text, "strong")) : [asRow(usual.toUpperCase(), "strong")];
};

/** How the three buttons answer; once somebody uses them, what they would say. */
const markLines = ({ choices }: PageView, { desk: { mark }, plan }: Sight): readonly Line[] => {
  const marked = mark === undefined ? undefined : choices[mark];
  const [press = "", again = ""] = [plan.press[0], plan.again[0]].map((key) => key && keyWords(key));
  if (marked) return said(`> ${marked.words}  (${again}: this one; ${press}: the next)`, "strong");
  return said(
    choices.length === 0 ? "" : `With the buttons: ${press} goes through the answers, ${again} takes one.`,
    "faint",
    0,
  );
};

/** What stands in the place of answers that are not taken yet. */
const WAITING = "...";

/**
 * Sets what a page says into `columns` of a terminal. How to answer is shown from the moment on in which a key answers
 * (`listening`); until then its rows are kept free. A list of fixtures takes `room` rows at most.
 */
export const rowsOf = (
  lines: readonly Line[],
  columns: number,
  listening: boolean,
  room = Number.POSITIVE_INFINITY,
): readonly Row[] =>
  lines.flatMap((line, at) => {
    const rows = rowsOfLine(line, columns, room);
    return listening || !isAnswer(line) ? rows : waiting(rows, isAnswer(lines[at - 1]));
  });

const isAnswer = (line: Line | undefined): boolean => line?.kind === "words" && line.role === "answer";

const waiting = (rows: readonly Row[], goesOn: boolean): readonly Row[] =>
  rows.map((row, at) => ({ ...row, text: at === 0 && !goesOn ? asRow(WAITING).text : "" }));

const rowsOfLine = (line: Line, columns: number, rows: number): readonly Row[] => {
  const room = columns - 2 * MARGIN;
  switch (line.kind) {
    case "gap":
      return [NO_ROW];
    case "words":
      return wordRows(line, room).map((text) => asRow(text, line.look, line.keep));
    case "strips":
      return stripRows(line.marks, room, line.detail).map((text) => asRow(text));
    case "tall-strip":
      return tallStrip(line.mark, room - 2).map((text) => asRow(text));
    case "letters":
      return letterRows(line, room);
    case "fixtures":
      return listRows(line, room, rows).map(({ text, look }) => asRow(text, look));
    case "drawing":
      return line.rows.map((text) => asRow(text));
    default:
      return line satisfies never;
  }
};

const letterRows = ({ text, high, keep }: Letters, room: number): readonly Row[] =>
  (largeLetters(text, room, high) ?? []).map((row) => asRow(row, "strong", keep));

/** Over as many rows as it needs; what has one row only shows by dots that something was left out. */
const wordRows = ({ mark, text, most }: Words, room: number): readonly string[] => {
  if (most === 1) return [mark + cut(text, room - widthOf(mark))];
  return (mark === "" ? wrapped(text, room) : hanging(mark, text, room)).slice(0, most);
};

/** One row of the terminal with its margin, as it is and without a break. */
const asRow = (text: string, look: Row["look"] = "plain", keep: Row["keep"] = 2): Row => ({
  text: " ".repeat(MARGIN) + text,
  look,
  keep,
});

/** A row with words at the left and at the right edge of `columns`; the left ones give way. */
const edges = (left: string, right: string, columns: number, look: Row["look"]): Row => {
  const room = columns - 2 * MARGIN - widthOf(right) - 2;
  return asRow(`${padded(cut(left, room), room)}  ${right}`, look);
};

/** Cuts a page down to `most` rows: blank ones go first, from below, then what can be spared, then the last. */
const fitted = (rows: readonly Row[], most: number): readonly Row[] => {
  let left = [...rows];
  for (const keep of [0, 1] as const)
    while (left.length > most) {
      const index = left.findLastIndex((row) => row.keep === keep);
      if (index < 0) break;
      left = left.toSpliced(index, 1);
    }
  return left.slice(0, most);
};

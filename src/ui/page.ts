import { anyOf, keyWords } from "./key-plan.ts";
import { largeLetters } from "./large.ts";
import { pageView } from "./page-view.ts";
import { asRow, edges, fitted, MARGIN, NO_ROW, type Row, rowsOf } from "./rows.ts";
import { type Sight, stageIn } from "./sight.ts";
import { type Headline, type Line, type PageView, said } from "./view.ts";

/** What the screen needs. One row stays free: a full screen would be cleared at every drawing. */
export const LEAST = { columns: 80, rows: 24 } as const;

/** The whole screen, row by row; never more rows than the terminal has, less one. */
export const pageOf = (sight: Sight): readonly Row[] => {
  const { columns, rows } = sight.size;
  const inRows = (lines: readonly Line[]) => rowsOf(lines, columns, sight.listening);
  const view = pageView(sight);
  if (columns < LEAST.columns || rows < LEAST.rows) return fitted(inRows(tooSmall(sight, view)), Math.max(1, rows - 1));
  const head = [edges(view.title, view.where, columns, "plain"), ...inRows(view.notes)];
  const body = inRows([...view.lines, ...markLines(view, sight)]);
  const spare = rows - 1 - [...head, ...body].filter(({ keep }) => keep === 2).length;
  return fitted([...head, NO_ROW, ...headlineRows(view, sight, spare), NO_ROW, ...body], rows - 1);
};

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

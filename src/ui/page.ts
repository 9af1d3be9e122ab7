import { anyOf, type KeyPlan, keyWords } from "./key-plan.ts";
import { largeLetters } from "./large.ts";
import { headlineOf } from "./moving-rows.ts";
import { type PageView, pageView } from "./page-view.ts";
import { asRow, edges, fitted, MARGIN, NO_ROW, type Row, rowsOf } from "./rows.ts";
import type { Sight } from "./sight.ts";
import { type Headline, type Line, said } from "./view.ts";

/** What the screen needs. One row stays free: a full screen would be cleared at every drawing. */
export const LEAST = { columns: 80, rows: 24 } as const;

/** The whole screen, row by row; never more rows than the terminal has, less one. */
export const pageOf = (sight: Sight): readonly Row[] => {
  const { columns, rows } = sight.size;
  const inRows = (lines: readonly Line[]) => rowsOf(lines, columns, sight.listening);
  if (columns < LEAST.columns || rows < LEAST.rows) return fitted(inRows(tooSmall(sight)), Math.max(1, rows - 1));
  const view = pageView(sight);
  const head = [edges(view.fixture, view.step, columns, "plain"), ...inRows(view.notes)];
  const body = inRows([...view.lines, ...markLines(view, sight)]);
  const spare = rows - 1 - [...head, ...body].filter(({ keep }) => keep === 2).length;
  return fitted([...head, NO_ROW, ...headlineRows(view, sight, spare), NO_ROW, ...body], rows - 1);
};

/** Says what is wrong and keeps the three buttons alive. */
const tooSmall = ({ size, plan, session }: Sight): readonly Line[] => [
  ...said(
    `This terminal has ${size.columns} columns and ${size.rows} rows. Make it ${LEAST.columns} by ${LEAST.rows}, or use --plain.`,
    "strong",
  ),
  ...said(session.stage.kind === "moving" ? `Now: ${headlineOf(session.stage.step)}.` : "It waits for an answer."),
  ...said(`Something wrong: ${anyOf(plan.press)}. Stop: ${anyOf(plan.stop)}.`),
];

/** What the again button would take, so that it can be read from afar. */
const markedHeadline = ({ choices }: PageView, { desk, letters }: Sight): Headline | undefined => {
  const marked = desk.mark === undefined || letters === "usual" ? undefined : choices[desk.mark];
  return marked && { usual: marked.words, far: marked.words };
};

/** Two lines of large letters, or one that is twice as large; where there is more to read, one line. */
const MOST_LARGE = { moving: 11, still: 5 };

/** What it is about, in capitals, or several rows high where there is room. */
const headlineRows = (view: PageView, sight: Sight, spare: number): readonly Row[] => {
  const { usual, far } = markedHeadline(view, sight) ?? view.headline;
  const most = MOST_LARGE[sight.session.stage.kind === "moving" ? "moving" : "still"];
  const room = sight.size.columns - 2 * MARGIN;
  const large = sight.letters === "usual" ? undefined : largeLetters(far, room, Math.min(spare, most));
  return large ? large.map((text) => asRow(text, "strong")) : [asRow(usual.toUpperCase(), "strong")];
};

/** How the three buttons answer; once somebody uses them, what they would say. */
export const markLines = (
  { choices }: Pick<PageView, "choices">,
  { desk: { mark }, plan }: { readonly desk: Pick<Sight["desk"], "mark">; readonly plan: KeyPlan },
): readonly Line[] => {
  const marked = mark === undefined ? undefined : choices[mark];
  const [press = "", again = ""] = [plan.press[0], plan.again[0]].map((key) => key && keyWords(key));
  if (marked) return said(`> ${marked.words}  (${again}: this one; ${press}: the next)`, "strong");
  return said(
    choices.length === 0 ? "" : `With the buttons: ${press} goes through the answers, ${again} takes one.`,
    "faint",
    0,
  );
};

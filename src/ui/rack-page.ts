import { safeText } from "../domain/problem/terminal.ts";
import { refusedLines } from "./foot-rows.ts";
import { anyOf } from "./key-plan.ts";
import { largeLetters } from "./large.ts";
import { LEAST, markLines } from "./page.ts";
import { rackChoicesAt } from "./rack-keys.ts";
import { fixtureRows } from "./rack-rows.ts";
import { differs } from "./rack-states.ts";
import { toldNow } from "./rack-telling.ts";
import { asRow, edges, fitted, MARGIN, NO_ROW, type Row, rowsOf } from "./rows.ts";
import type { RackSight } from "./sight.ts";
import { ABOUT_LINE, type Line, type RackPageView, said } from "./view.ts";

/** The rack on one screen: what moves now and what to watch, every fixture in a row of its own, and which key means what. */
export const rackPageOf = (sight: RackSight): readonly Row[] => {
  const { columns, rows } = sight.size;
  const view = toldNow(sight);
  const inRows = (lines: readonly Line[]) => rowsOf(lines, columns, sight.listening);
  if (columns < LEAST.columns || rows < LEAST.rows) return inRows(tooSmall(sight, view));
  const all = fixtureRows(sight);
  const list = sight.letters === "usual" ? spared(sight, all) : all.filter(({ look }) => look === "strong");
  const head = [edges(safeText(sight.batch.plan.title), view.where, columns, "plain"), ...inRows(notesOf(sight))];
  const choices = rackChoicesAt(sight.batch, sight.desk, sight.plan);
  const [above, below] = [inRows(view.above), inRows([...view.below, ...markLines({ choices }, sight)])];
  const fixed = [...head, ...above, ...list, ...below].filter(({ keep }) => keep === 2).length;
  const large = headlineRows(sight, view, rows - 1 - fixed);
  return fitted([...head, NO_ROW, ...large, NO_ROW, ...above, NO_ROW, ...list, NO_ROW, ...below], rows - 1);
};

/** Keeps every word of the caution on a safety page; rows of fixtures give way. */
const spared = ({ batch }: RackSight, list: readonly Row[]): readonly Row[] =>
  batch.stage.kind === "holding" ? list.map((row) => ({ ...row, keep: 1 })) : list;

/** Says what is wrong and keeps the buttons alive. */
const tooSmall = ({ size, plan, batch }: RackSight, { headline }: RackPageView): readonly Line[] => [
  ...said(
    `This terminal has ${size.columns} columns and ${size.rows} rows. Make it ${LEAST.columns} by ${LEAST.rows}, or use --plain.`,
    "strong",
  ),
  ...said(`Now: ${headline}.`),
  ...said(`One of ${batch.members.length} differs: ${anyOf(plan.press)}. Stop: ${anyOf(plan.stop)}.`),
];

const notesOf = (sight: RackSight): readonly Line[] => {
  const { batch, notice } = sight;
  const odd = [...batch.members.keys()].filter((index) => differs(batch, index)).length;
  const found = odd === 0 ? "No suspects yet." : `${odd === 1 ? "1 suspect" : `${odd} suspects`} so far.`;
  return [
    ...said(`${batch.plan.opening.simulated ? "SIMULATED fixtures. " : ""}${found}`, "faint"),
    ...said(batch.trouble && !ABOUT_LINE.includes(batch.stage.kind) ? `! ${safeText(batch.trouble)}` : "", "alert"),
    ...refusedLines(sight),
    ...said(notice ? safeText(notice) : "", "faint", 1),
  ];
};

const MOST_LARGE = 5;

/** What it is about, in capitals, or several rows high where there is room. */
const headlineRows = (sight: RackSight, { headline, far }: RackPageView, spare: number): readonly Row[] => {
  const room = sight.size.columns - 2 * MARGIN;
  const large = sight.letters === "usual" ? undefined : largeLetters(far, room, Math.min(spare, MOST_LARGE));
  return large ? large.map((text) => asRow(text, "strong")) : [asRow(headline.toUpperCase(), "strong")];
};

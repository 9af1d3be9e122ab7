import { safeText } from "../domain/problem/terminal.ts";
import { refusedRows } from "./answer-rows.ts";
import { anyOf } from "./key-plan.ts";
import { largeLetters } from "./large.ts";
import { LEAST } from "./page.ts";
import { fixtureRows } from "./rack-rows.ts";
import type { RackSight } from "./rack-sight.ts";
import { differs } from "./rack-states.ts";
import { toldNow } from "./rack-telling.ts";
import type { Told } from "./rack-told.ts";
import { ABOUT_LINE, asRow, BLANK, edges, fitted, MARGIN, type Row, said } from "./rows.ts";

/** The rack on one screen: what moves now and what to watch, every fixture in a row of its own, and which key means what. */
export const rackPageOf = (sight: RackSight): readonly Row[] => {
  const { columns, rows } = sight.size;
  const told = toldNow(sight);
  if (columns < LEAST.columns || rows < LEAST.rows) return tooSmall(sight, told);
  const all = fixtureRows(sight);
  const list = sight.letters === "usual" ? spared(sight, all) : all.filter(({ look }) => look === "strong");
  const fixed = [...headerRows(sight, told), ...told.above, ...list, ...told.below];
  const large = headlineRows(sight, told, rows - 1 - fixed.filter(({ keep }) => keep === 2).length);
  return fitted(
    [...headerRows(sight, told), BLANK, ...large, BLANK, ...told.above, BLANK, ...list, BLANK, ...told.below],
    rows - 1,
  );
};

/** On a safety page every word of the caution stays, and rows of fixtures give way. */
const spared = ({ batch }: RackSight, list: readonly Row[]): readonly Row[] =>
  batch.stage.kind === "holding" ? list.map((row) => ({ ...row, keep: 1 })) : list;

/** Says what is wrong and keeps the buttons alive. */
const tooSmall = ({ size, plan, batch }: RackSight, { headline }: Told): readonly Row[] => [
  ...said(
    `This terminal has ${size.columns} columns and ${size.rows} rows; ${LEAST.columns} and ${LEAST.rows} are needed.`,
    size.columns,
    "strong",
  ),
  ...said(`Now: ${headline}.`, size.columns),
  ...said(`One of ${batch.members.length} differs: ${anyOf(plan.press)}. Stop: ${anyOf(plan.stop)}.`, size.columns),
];

const headerRows = (sight: RackSight, { where }: Told): readonly Row[] => {
  const { batch, size, notice } = sight;
  const { simulated } = batch.plan.opening;
  const odd = [...batch.members.keys()].filter((index) => differs(batch, index)).length;
  const found = odd === 0 ? "Nobody differs so far." : `${odd === 1 ? "1 differs" : `${odd} differ`} so far.`;
  return [
    edges(safeText(batch.plan.title), where, size.columns, "plain"),
    asRow(`${simulated ? "SIMULATED fixtures. " : ""}${found}`, "faint"),
    ...said(
      batch.trouble && !ABOUT_LINE.includes(batch.stage.kind) ? `! ${safeText(batch.trouble)}` : "",
      size.columns,
      "alert",
    ),
    ...refusedRows(sight),
    ...said(notice ? safeText(notice) : "", size.columns, "faint", 1),
  ];
};

const MOST_LARGE = 5;

/** What it is about, in capitals, or several rows high where there is room. */
const headlineRows = (sight: RackSight, { headline, far }: Told, spare: number): readonly Row[] => {
  const room = sight.size.columns - 2 * MARGIN;
  const large = sight.letters === "usual" ? undefined : largeLetters(far, room, Math.min(spare, MOST_LARGE));
  return large ? large.map((text) => asRow(text, "strong")) : [asRow(headline.toUpperCase(), "strong")];
};

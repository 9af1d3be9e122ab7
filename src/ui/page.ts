import { safeText } from "../domain/problem/terminal.ts";
import { cut } from "../reports/wrap.ts";
import { tooLongOnWatch } from "../run/session/resting.ts";
import type { Session } from "../run/session/session.ts";
import { refusedRows } from "./answer-rows.ts";
import { askingRows } from "./asking-rows.ts";
import { handRows } from "./by-hand-rows.ts";
import { choicesAt } from "./choices.ts";
import { farRows } from "./far-rows.ts";
import { offersRows, settingRows, stirringRows, whatMovedRows } from "./finding-rows.ts";
import { type Headline, headline } from "./headline.ts";
import { holdingRows, slowRows } from "./holding-rows.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import { largeLetters } from "./large.ts";
import { headlineOf, movingRows } from "./moving-rows.ts";
import { placedRows } from "./placed-rows.ts";
import { ABOUT_LINE, asRow, BLANK, edges, fitted, MARGIN, type Row, said } from "./rows.ts";
import type { Sight } from "./sight.ts";
import { spotRows } from "./spot-rows.ts";
import {
  confirmingRows,
  diagnosingRows,
  finishedRows,
  lossRows,
  openingRows,
  pausedRows,
  strangerRows,
} from "./waiting-rows.ts";

/** What the screen needs. One row stays free: a full screen would be cleared at every drawing. */
export const LEAST = { columns: 80, rows: 24 } as const;

/** The whole screen, row by row; never more rows than the terminal has, less one. */
export const pageOf = (sight: Sight): readonly Row[] => {
  const { columns, rows } = sight.size;
  if (columns < LEAST.columns || rows < LEAST.rows) return tooSmall(sight);
  const head = headerRows(sight);
  const body = [...stageRows(sight), ...markRows(sight)];
  const spare = rows - 1 - [...head, ...body].filter(({ keep }) => keep === 2).length;
  return fitted([...head, BLANK, ...headlineRows(sight, spare), BLANK, ...body], rows - 1);
};

/** Says what is wrong and keeps the three buttons alive. */
const tooSmall = ({ size, plan, session }: Sight): readonly Row[] =>
  fitted(
    [
      ...said(
        `This terminal has ${size.columns} columns and ${size.rows} rows; ${LEAST.columns} and ${LEAST.rows} are needed.`,
        size.columns,
        "strong",
      ),
      ...said(session.stage.kind === "moving" ? `Now: ${headlineOf(session.stage.step)}.` : "It waits.", size.columns),
      ...said(`Something wrong: ${anyOf(plan.press)}. Stop: ${anyOf(plan.stop)}.`, size.columns),
    ],
    Math.max(1, size.rows - 1),
  );

const headerRows = (sight: Sight): readonly Row[] => {
  const { session, size, notice } = sight;
  const { opening, timeline, sequence } = session.job;
  const where = `${safeText(opening.fixture.serial)}, ${safeText(timeline.profile.title)}`;
  const mode = opening.mode === "hands-off" ? "goes on by itself" : "asks after every step";
  return [
    edges(where, stepOf(session.stage, timeline.steps.length), size.columns, "plain"),
    asRow(
      cut(`${opening.simulated ? "SIMULATED fixture. " : ""}${safeText(sequence.title)}; ${mode}.`, size.columns - 4),
      "faint",
      opening.simulated ? 2 : 1,
    ),
    ...said(
      session.trouble && !ABOUT_LINE.includes(session.stage.kind) ? `! ${safeText(session.trouble)}` : "",
      size.columns,
      "alert",
    ),
    ...refusedRows(sight),
    ...said(restInWords(session), size.columns, "strong"),
    ...said(notice ? safeText(notice) : "", size.columns, "faint", 1),
  ];
};

/** Between steps only: while it moves nobody is to read. */
export const restInWords = (session: Session): string => {
  const watched = session.stage.kind === "moving" ? undefined : tooLongOnWatch(session);
  return watched === undefined
    ? ""
    : `You have watched for ${Math.round(watched / 60)} minutes: five minutes off keep your eyes sharp.`;
};

const stepOf = (stage: Sight["session"]["stage"], steps: number): string => {
  if (stage.kind === "by-hand") return "by hand";
  const about = stage.kind === "diagnosing" ? stage.purpose : stage;
  const index = "index" in about ? about.index : "next" in stage ? stage.next.index : undefined;
  return index === undefined ? "" : `step ${index + 1} of ${steps}`;
};

/** What the again button would take, so that it can be read from afar. */
const markedHeadline = (sight: Sight): Headline | undefined => {
  const { session, desk, plan, letters } = sight;
  const marked = desk.mark === undefined || letters === "usual" ? undefined : choicesAt(session, desk, plan)[desk.mark];
  return marked && { usual: marked.words, far: marked.words };
};

/** Two lines of large letters, or one that is twice as large; where there is more to read, one line. */
const MOST_LARGE = { moving: 11, still: 5 };

/** What it is about, in capitals, or several rows high where there is room. */
const headlineRows = (sight: Sight, spare: number): readonly Row[] => {
  const { usual, far } = markedHeadline(sight) ?? headline(sight);
  const large =
    sight.letters === "usual"
      ? undefined
      : largeLetters(
          far,
          sight.size.columns - 2 * MARGIN,
          Math.min(spare, MOST_LARGE[sight.session.stage.kind === "moving" ? "moving" : "still"]),
        );
  return large ? large.map((text) => asRow(text, "strong")) : [asRow(usual.toUpperCase(), "strong")];
};

/** How the three buttons answer; once somebody uses them, what they would say. */
const markRows = ({ session, desk, plan, size }: Sight): readonly Row[] => {
  const choices = desk.entry ? [] : choicesAt(session, desk, plan);
  const marked = desk.mark === undefined ? undefined : choices[desk.mark];
  const [press = "", again = ""] = [plan.press[0], plan.again[0]].map((key) => key && keyWords(key));
  if (marked) return said(`> ${marked.words}  (${again}: this one; ${press}: the next)`, size.columns, "strong");
  return said(
    choices.length === 0 ? "" : `By the buttons: ${press} goes through the answers, ${again} takes one.`,
    size.columns,
    "faint",
    0,
  );
};

export const stageRows = (sight: Sight): readonly Row[] => {
  const { stage } = sight.session;
  switch (stage.kind) {
    case "moving":
      return sight.letters === "usual" ? movingRows(sight, stage) : farRows(sight, stage);
    case "asking":
      return askingRows(sight, stage);
    case "holding":
      return holdingRows(sight, stage);
    case "slow-start":
      return slowRows(sight, stage);
    case "stirring":
      return stirringRows(sight, stage);
    case "what-moved":
      return whatMovedRows(sight, stage);
    case "setting-found":
      return settingRows(sight, stage);
    case "diagnosing":
      return diagnosingRows(sight);
    case "placed":
      return placedRows(sight, stage);
    case "at-spot":
      return spotRows(sight, stage);
    case "by-hand":
      return handRows(sight, stage.task);
    case "what-next":
      return offersRows(sight, stage);
    case "confirming":
      return confirmingRows(sight, stage);
    case "paused":
      return pausedRows(sight, stage);
    case "line-lost":
      return lossRows(sight, stage);
    case "other-interface":
      return strangerRows(sight, stage);
    case "finished":
      return finishedRows(sight, stage);
    case "opening":
      return openingRows(sight);
    default:
      return stage satisfies never;
  }
};

import { safeText } from "../problem/terminal.ts";
import { askingHeadline, askingRows } from "./asking-rows.ts";
import { farRows } from "./far-rows.ts";
import { anyOf } from "./key-plan.ts";
import { largeLetters } from "./large.ts";
import { headlineOf, type Moving, movingRows } from "./moving-rows.ts";
import { asRow, BLANK, edges, fitted, MARGIN, type Row, said } from "./rows.ts";
import type { Sight } from "./sight.ts";
import {
  confirmingRows,
  finishedRows,
  holdingRows,
  lossRows,
  openingRows,
  pausedRows,
  slowRows,
} from "./waiting-rows.ts";

/** What the screen needs. One row stays free: a full screen would be cleared at every drawing. */
export const LEAST = { columns: 80, rows: 24 } as const;

/** The whole screen, row by row; never more rows than the terminal has, less one. */
export const pageOf = (sight: Sight): readonly Row[] => {
  const { columns, rows } = sight.size;
  if (columns < LEAST.columns || rows < LEAST.rows) return tooSmall(sight);
  const head = headerRows(sight);
  const body = stageRows(sight);
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

const headerRows = ({ session, size, notice }: Sight): readonly Row[] => {
  const { opening, timeline, sequence } = session.job;
  const where = `${safeText(opening.fixture.serial)}, ${safeText(timeline.profile.title)}`;
  const mode = opening.mode === "hands-off" ? "goes on by itself" : "asks after every step";
  return [
    edges(where, stepOf(session.stage, timeline.steps.length), size.columns, "plain"),
    asRow(
      `${opening.simulated ? "SIMULATED fixture. " : ""}${safeText(sequence.title)}; ${mode}.`.slice(
        0,
        size.columns - 4,
      ),
      "faint",
      opening.simulated ? 2 : 1,
    ),
    ...said(
      session.trouble && session.stage.kind !== "line-lost" ? `! ${safeText(session.trouble)}` : "",
      size.columns,
      "alert",
    ),
    ...said(notice ? safeText(notice) : "", size.columns, "faint", 1),
  ];
};

const stepOf = (stage: Sight["session"]["stage"], steps: number): string => {
  const index = "index" in stage ? stage.index : "next" in stage ? stage.next.index : undefined;
  return index === undefined ? "" : `step ${index + 1} of ${steps}`;
};

/** Two lines of large letters, or one that is twice as large; where there is more to read, one line. */
const MOST_LARGE = { moving: 11, still: 5 };

/** What it is about, in capitals, or several rows high where there is room. */
const headlineRows = (sight: Sight, spare: number): readonly Row[] => {
  const { usual, far } = headline(sight);
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

interface Headline {
  readonly usual: string;
  /** In as few letters as can be, for large ones. */
  readonly far: string;
}

export const headline = (sight: Sight): Headline => {
  const { stage } = sight.session;
  switch (stage.kind) {
    case "moving":
      return { usual: headlineOf(stage.step), far: farHeadline(sight, stage) };
    case "asking":
      return { usual: askingHeadline(sight, stage), far: "What?" };
    case "holding":
      return stage.point === "before-moving"
        ? { usual: "before anything moves", far: "Clear?" }
        : { usual: "switch the mains on", far: "Mains on" };
    case "slow-start":
      return { usual: "slow movement first", far: "Slow" };
    case "confirming":
      return { usual: "did you watch these?", far: "Watched?" };
    case "paused":
      return stage.why === "away" ? { usual: "away", far: "Away" } : { usual: "standing still", far: "Still" };
    case "line-lost":
      return stage.back
        ? { usual: "the DMX line is back", far: "Line back" }
        : { usual: "the DMX line is lost", far: "Line lost" };
    case "finished":
      return {
        usual: stage.how === "finished" ? "finished" : "stopped",
        far: stage.how === "finished" ? "Done" : "Stopped",
      };
    case "opening":
      return { usual: "one moment", far: "One moment" };
    default:
      return stage satisfies never;
  }
};

/** A press is answered large for a moment: from afar nothing else tells that it was felt. */
const farHeadline = ({ session, sincePress }: Sight, stage: Moving): string => {
  const count = session.view.steps[stage.index]?.presses.length ?? 0;
  return count > 0 && sincePress < 1 ? `Pressed ${count}` : headlineOf(stage.step);
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
    case "confirming":
      return confirmingRows(sight, stage);
    case "paused":
      return pausedRows(sight, stage);
    case "line-lost":
      return lossRows(sight, stage);
    case "finished":
      return finishedRows(sight, stage);
    case "opening":
      return openingRows(sight);
    default:
      return stage satisfies never;
  }
};

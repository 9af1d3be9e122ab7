import { safeText } from "../domain/problem/terminal.ts";
import { spanInWords } from "../reports/status-words.ts";
import { guardedBy } from "../run/batch/guarded.ts";
import { tooLongOnWatch } from "../run/session/judging.ts";
import { questionOf, type Session } from "../run/session/session.ts";
import { askingRows } from "./asking-rows.ts";
import { handRows } from "./by-hand-rows.ts";
import { type Choice, choicesAt } from "./choices.ts";
import { offersRows, settingRows, stirringRows, whatMovedRows } from "./finding-rows.ts";
import { refusedLines } from "./foot-rows.ts";
import { headline } from "./headline.ts";
import { holdingRows, slowRows } from "./holding-rows.ts";
import { keysRows, markOf, movingRows, spectacleRows, stripsFor, whatMoves } from "./moving-rows.ts";
import { placedRows, spotRows } from "./placed-rows.ts";
import type { Moving, Sight } from "./sight.ts";
import { leftOfStep } from "./time-words.ts";
import { ABOUT_LINE, atMost, BLANK, capital, type Headline, type Line, said } from "./view.ts";
import {
  confirmingRows,
  diagnosingRows,
  finishedRows,
  lossRows,
  openingRows,
  pausedRows,
  strangerRows,
} from "./waiting-rows.ts";

/** All that the page of one fixture says in one moment, for whoever shows it: a terminal, a reader's voice, a telephone. */
export interface PageView {
  /** What is asked, for an answer to name; undefined while nothing is. */
  readonly question: string | undefined;
  /** Which fixture it is, and at which step. */
  readonly fixture: string;
  readonly step: string;
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

/** The whole page of one fixture's run as data, for whoever shows it. */
export const pageView = (sight: Sight): PageView => {
  const { session, desk, plan, listening } = sight;
  const { opening, timeline } = session.job;
  const guarded = guardedBy(session.stage);
  return {
    question: questionOf(session),
    fixture: `${safeText(opening.fixture.serial)}, ${safeText(timeline.profile.title)}`,
    step: stepInView(session.stage, timeline.steps.length),
    headline: headline(sight),
    notes: notesOf(sight),
    lines: stageLines(sight),
    choices: desk.entry ? [] : choicesAt(session, desk, plan),
    guard: guarded && plan.own[guarded],
    listening,
  };
};

const notesOf = (sight: Sight): readonly Line[] => {
  const { session, notice } = sight;
  const { opening, sequence } = session.job;
  const mode = opening.mode === "hands-off" ? "continuous" : "asks after every step";
  const simulated = opening.simulated ? "SIMULATED fixture. " : "";
  return [
    ...atMost(1, said(`${simulated}${safeText(sequence.title)}; ${mode}.`, "faint", opening.simulated ? 2 : 1)),
    ...said(
      session.trouble && !ABOUT_LINE.includes(session.stage.kind) ? `! ${safeText(session.trouble)}` : "",
      "alert",
    ),
    ...refusedLines(sight),
    ...said(restInWords(session), "strong"),
    ...said(notice ? safeText(notice) : "", "faint", 1),
  ];
};

/**
 * Advises a rest for the eyes after long watching, in words; "" before that, and while
 * a step moves, when nobody is to read.
 */
export const restInWords = (session: Session): string => {
  const watched = session.stage.kind === "moving" ? undefined : tooLongOnWatch(session);
  return watched === undefined
    ? ""
    : `You have watched for ${Math.round(watched / 60)} minutes: five minutes off keep your eyes sharp.`;
};

/** Which step of how many it is, in words; "by hand", or "" where there is none. `steps` is how many the run has. */
export const stepInView = (stage: Sight["session"]["stage"], steps: number): string => {
  if (stage.kind === "by-hand") return "by hand";
  const about = stage.kind === "diagnosing" ? stage.purpose : stage;
  const index = "index" in about ? about.index : "next" in stage ? stage.next.index : undefined;
  return index === undefined ? "" : `step ${index + 1} of ${steps}`;
};

/** What the page says in the stage that the run is in. */
export const stageLines = (sight: Sight): readonly Line[] => {
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
      return openingRows();
    default:
      return stage satisfies never;
  }
};

const TIME_HIGH = 5;

/** The page while a step plays, for somebody three metres away: what can be read from there, and no more. */
const farRows = (sight: Sight, stage: Moving): readonly Line[] => {
  const { session, frame } = sight;
  const [id] = stripsFor(sight, stage);
  return [
    ...atMost(2, said(`${capital(whatMoves(session, stage))}.`, "strong")),
    BLANK,
    ...(id ? [{ kind: "tall-strip", mark: markOf(sight, stage, id) } as const] : []),
    ...said(`Watch for: ${safeText(stage.step.watch)}.`, "strong"),
    ...spectacleRows(sight, stage.step.functions).map((row) => ({ ...row, keep: 1 }) as const),
    BLANK,
    { kind: "letters", text: spanInWords(leftOfStep(stage.step, frame)), high: TIME_HIGH, keep: 1 },
    BLANK,
    ...keysRows(sight),
  ];
};

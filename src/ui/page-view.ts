import { placeInWords } from "../data/rack/rack.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { lookedAtAlone, memberAt, rackQuestionOf } from "../run/batch/batch.ts";
import { guardedBy } from "../run/batch/guarded.ts";
import { tooLongOnWatch } from "../run/session/judging.ts";
import type { Session } from "../run/session/session.ts";
import { askingRows } from "./asking-rows.ts";
import { handRows } from "./by-hand-rows.ts";
import { choicesAt } from "./choices.ts";
import { confirmingOfAll, confirmingRows, whichOfAll } from "./confirming-rows.ts";
import { offersRows, settingRows, stirringRows, whatMovedRows } from "./finding-rows.ts";
import { differs, fixtureRows } from "./fixture-rows.ts";
import { entryRows, personRows, refusedLines } from "./foot-rows.ts";
import { headline, titleIn, whereIn } from "./headline.ts";
import { holdingOfAll, holdingRows, slowOfAll, slowRows } from "./holding-rows.ts";
import { lossOfAll, lossRows, strangerOfAll, strangerRows } from "./line-rows.ts";
import { movingOfAll, movingRows } from "./moving-rows.ts";
import { placedRows, spotRows } from "./placed-rows.ts";
import { type AloneSight, aloneIn, type Sight, stageIn } from "./sight.ts";
import { ABOUT_LINE, type AroundList, atMost, BLANK, type Line, type PageView, said } from "./view.ts";
import {
  addressOfAll,
  betweenOfAll,
  diagnosingRows,
  finishedOfAll,
  finishedRows,
  openingRows,
  pausedOfAll,
  pausedRows,
} from "./waiting-rows.ts";

/** The whole page of a run as data, of one fixture or of many, for whoever shows it: a terminal, a reader's voice, a telephone. */
export const pageView = (sight: Sight): PageView => {
  const { batch, desk, plan, listening } = sight;
  const guarded = guardedBy(stageIn(batch));
  return {
    question: rackQuestionOf(batch),
    title: titleIn(batch),
    where: whereIn(batch),
    headline: headline(sight),
    notes: notesOf(sight),
    lines: linesOf(sight),
    choices: desk.entry ? [] : choicesAt(batch, desk, plan),
    guard: guarded && plan.own[guarded],
    listening,
  };
};

const notesOf = (sight: Sight): readonly Line[] => {
  const alone = aloneIn(sight);
  const trouble = troubleIn(sight);
  const notice = noticeIn(sight);
  return [
    ...(alone ? whatIsRun(alone.session) : suspects(sight)),
    ...said(trouble === "" || ABOUT_LINE.includes(stageIn(sight.batch).kind) ? "" : `! ${trouble}`, "alert"),
    ...refusedLines(sight),
    ...said(restIn(sight), "strong"),
    ...said(notice, "faint", 1),
  ];
};

const whatIsRun = ({ job: { opening, sequence } }: Session): readonly Line[] => {
  const mode = opening.mode === "hands-off" ? "continuous" : "asks after every step";
  const simulated = opening.simulated ? "SIMULATED fixture. " : "";
  return atMost(1, said(`${simulated}${safeText(sequence.title)}; ${mode}.`, "faint", opening.simulated ? 2 : 1));
};

const suspects = ({ batch }: Sight): readonly Line[] => {
  const count = [...batch.members.keys()].filter((index) => differs(batch, index)).length;
  const found = count === 0 ? "No suspects yet." : `${count === 1 ? "1 suspect" : `${count} suspects`} so far.`;
  return said(`${batch.plan.opening.simulated ? "SIMULATED fixtures. " : ""}${found}`, "faint");
};

/** What went wrong with the computer, a line or the journal, in words; "" while nothing did. */
export const troubleIn = (sight: Sight): string => safeText((aloneIn(sight)?.session ?? sight.batch).trouble ?? "");

/** What is to be known besides: who else stands still while one of several is looked at alone, and what the system cannot do. */
export const noticeIn = ({ batch, notice = "" }: Sight): string => {
  const { stage, plan } = batch;
  const others =
    stage.kind !== "alone" || plan.asks === "alone"
      ? ""
      : `Alone: ${placeInWords(memberAt(batch, stage.member).place)}. All others stand dark and still.`;
  return safeText([others, notice].filter((words) => words !== "").join(" "));
};

/**
 * Advises a rest for the eyes after long watching, in words; "" before that, and while
 * a step moves, when nobody is to read.
 */
export const restIn = ({ batch }: Sight): string => {
  const session = lookedAtAlone(batch)?.session;
  const watched = session && session.stage.kind !== "moving" ? tooLongOnWatch(session) : undefined;
  return watched === undefined
    ? ""
    : `You have watched for ${Math.round(watched / 60)} minutes: five minutes off keep your eyes sharp.`;
};

/** What the page says in the stage that the run is in. */
export const linesOf = (sight: Sight): readonly Line[] => {
  const alone = aloneIn(sight);
  if (alone) return aloneLines(alone);
  const { above, below } = aroundList(sight);
  return [...above, BLANK, fixtureRows(sight), BLANK, ...below, ...footRows(sight)];
};

/** Initials are asked for on the first page; what is typed is shown on any. */
const footRows = (sight: Sight): readonly Line[] => {
  const { stage } = sight.batch;
  if (stage.kind === "holding" && stage.point === "before-moving") return personRows(sight);
  return sight.desk.entry ? entryRows(sight.desk.entry) : [];
};

const aloneLines = (sight: AloneSight): readonly Line[] => {
  const { stage } = sight.session;
  switch (stage.kind) {
    case "moving":
      return movingRows(sight, stage);
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
      return openingRows("one line");
    default:
      return stage satisfies never;
  }
};

/** What is said round the list of several fixtures, in the stage that they are in. */
export const aroundList = (sight: Sight): AroundList => {
  const { stage } = sight.batch;
  switch (stage.kind) {
    case "moving":
      return movingOfAll(sight, stage);
    case "which":
      return whichOfAll(sight, stage);
    case "slow-start":
      return slowOfAll(sight, stage);
    case "holding":
      return holdingOfAll(sight, stage);
    case "confirming":
      return confirmingOfAll(sight, stage);
    case "paused":
      return pausedOfAll(sight);
    case "line-lost":
      return lossOfAll(sight, stage);
    case "other-interface":
      return strangerOfAll(sight, stage);
    case "between":
      return betweenOfAll(sight, stage);
    case "own-address":
      return addressOfAll(sight, stage);
    case "finished":
      return finishedOfAll(sight, stage);
    case "opening":
      return { above: openingRows("several lines"), below: [] };
    case "alone":
      return { above: [], below: [] };
    default:
      return stage satisfies never;
  }
};

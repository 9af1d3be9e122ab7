import { safeText } from "../domain/problem/shown-text.ts";
import { ROUTINES } from "../domain/trade/routines.ts";
import { spanInWords } from "../reports/status-words.ts";
import type { RackNext, RackStageOf } from "../run/batch/batch.ts";
import { stepOf, turnOf } from "../run/batch/flow.ts";
import type { Attempt } from "../run/events/attempts.ts";
import { isSilenceCounted } from "../run/session/flow.ts";
import { stepAt, stepInWords } from "../run/session/job.ts";
import { MOST_SILENCE_S } from "../run/session/judging.ts";
import type { Session } from "../run/session/session.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import { sensorAlarms, sensorLines } from "./sensor-lines.ts";
import type { AloneSight, Moving, Sight } from "./sight.ts";
import { conditionInWords, lastJudged, leftOfStep, stepsAhead, timeLeftInWords, timesInWords } from "./step-words.ts";
import { soakRows } from "./together-rows.ts";
import { extentInWords } from "./told.ts";
import { markOf, spectacleRows, stripsFor, travelRows } from "./travel-rows.ts";
import { type AroundList, atMost, BLANK, capital, type Line, said } from "./view.ts";

/** The page while a step plays: what moves, from where to where, how far it is, what to watch for, what comes next. */
export const movingRows = (sight: AloneSight, stage: Moving): readonly Line[] =>
  sight.letters === "usual" ? nearRows(sight, stage) : farRows(sight, stage);

const nearRows = (sight: AloneSight, stage: Moving): readonly Line[] => {
  return [
    ...said(`${capital(whatMoves(sight.session, stage))}.`),
    ...stage.step.notes.flatMap((note) => said(safeText(note), "faint", 1)),
    BLANK,
    ...travelRows(sight, stage),
    BLANK,
    ...said(`Watch for: ${safeText(stage.step.watch)}.`, "strong"),
    ...(stage.step.routine === "soak" ? [...soakRows(sight), ...sensorLines(sight.session.view)] : []),
    ...spectacleRows(sight, stage.step.functions),
    BLANK,
    ...said(pressesInWords(sight.session, stage), "strong"),
    ...said(timeInWords(sight, stage)),
    ...said(nextInWords(sight.session, stage.index)),
    ...said(beforeInWords(sight.session), "faint", 1),
    BLANK,
    ...keysRows(sight),
  ];
};

const PACES: Readonly<Record<number, string>> = { 0.5: "half", 0.25: "a quarter of" };
/** What a step does in one line: the routine, from where to where, the pace, and which try it is. */
export const whatMoves = (session: Session, { index, step, attempt }: Moving): string => {
  const extent = extentInWords(session.job.timeline.profile, step);
  const what = step.functions.length > 0 ? ROUTINES[step.routine].words : "the whole fixture";
  const pace = step.pace === 1 ? "" : `, at ${PACES[step.pace] ?? `${Math.round(step.pace * 100)} % of`} the speed`;
  const again = attempt > 1 ? `, ${tryInWords(attempt, session.view.steps[index]?.attempts.at(-2))}` : "";
  return `${what}${extent ? `, ${extent}` : ""}${pace}${again}`;
};

/** "try 2, repeated by a key": which try it is, and why there is another one. */
const tryInWords = (attempt: number, before: Attempt | undefined): string => {
  if (before?.came === "repeat") return `try ${attempt}, computer too slow or line lost`;
  return `try ${attempt}, ${before?.came === "again" ? "repeated by a key" : "played again"}`;
};

/** How often was pressed in this step, in words; "" before the first press. */
export const pressesInWords = ({ view, job }: Session, { index }: Pick<Moving, "index">): string => {
  const presses = view.steps[index]?.presses ?? [];
  const { length: count } = presses;
  if (count === 0) return "";
  const late = presses.some(({ frame }) => frame >= stepAt(job, index).frames);
  return `Pressed ${timesInWords(count)} in this step${late ? "; a press just after its end counts for it" : ""}.`;
};

const timeInWords = ({ session, frame }: AloneSight, stage: Moving): string => {
  const condition = conditionInWords(session, stage, frame);
  return `${condition === "" ? "" : `${condition} `}${timeLeftInWords(session, stage, frame)}`;
};

const nextInWords = (session: Session, index: number): string => {
  const [next] = stepsAhead(session, index);
  return next ? `Next: ${stepInWords(next)}.` : "This is the last step.";
};

const beforeInWords = (session: Session): string => {
  const last = lastJudged(session);
  return last ? `Before: ${last}` : "";
};

/** Long before a minute is over, after which nobody counts as watching. */
export const REMIND_AFTER_S = 40;
/** From then on the person is told what it means, and which key ends it. */
const NOT_WATCHED =
  "No key for a minute: what moves now does not count as watched. Press any key: it counts again from then on.";
export const REMINDER = "Still watching? Press any key. After a minute without one it counts as not watched.";

/** Where silence is counted: a reminder when nobody has pressed for long, and what it means when it was too long. */
const reminderRows = ({ quiet }: Sight): readonly Line[] =>
  said(quiet < REMIND_AFTER_S ? "" : `! ${quiet >= MOST_SILENCE_S ? NOT_WATCHED : REMINDER}`, "alert");

const keysRows = (sight: AloneSight): readonly Line[] => {
  const { plan, desk, session } = sight;
  const handsOff = session.job.opening.mode === "hands-off";
  const waiting = desk.wanted
    ? `After this step: ${desk.wanted === "away" ? "pause, dark and still" : "it stands still"}.`
    : handsOff
      ? `Pause: ${keyWords(plan.letters.away)}. Stand still: ${keyWords(plan.letters.freeze)}. Both begin after this step.`
      : "";
  return [
    ...(handsOff && isSilenceCounted(session) ? reminderRows(sight) : []),
    ...said(waiting, desk.wanted ? "strong" : "faint", desk.wanted ? 2 : 1),
    ...said(`Something wrong: press ${anyOf(plan.press)}, each time it happens.`),
    ...said(
      `Repeat this step: ${anyOf(plan.again)}. Stop it all: ${anyOf(plan.stop)}. Area not clear: ${keyWords(plan.letters.undo)}.`,
    ),
  ];
};

const TIME_HIGH = 5;

/** The page while a step plays, for somebody three metres away: what can be read from there, and no more. */
const farRows = (sight: AloneSight, stage: Moving): readonly Line[] => {
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

/** The page while a group plays a step: what it is, what to watch for, and which key means which fixture. */
export const movingOfAll = (sight: Sight, stage: RackStageOf<"moving">): AroundList => {
  const { batch, frame } = sight;
  const { next } = stage;
  const step = stepOf(batch, next);
  const what = step.functions.length > 0 ? ROUTINES[step.routine].words : "the whole fixture";
  const again = stage.attempt > 1 ? `, try ${stage.attempt}` : "";
  const group = `${capital(safeText(turnOf(batch, next).name))}`;
  return {
    above: [
      ...said(`${group}. ${together(next)} ${what}${again}, ${spanInWords(leftOfStep(step, frame))} left.`),
      ...said(`${frame < step.leadIn ? "It moves to the start. " : ""}Watch for: ${safeText(step.watch)}.`, "strong"),
      ...said(unclaimed(stage), "strong"),
      ...(step.routine === "soak" ? alarms(sight) : []),
    ],
    below: letterRows(sight, stage),
  };
};

const MOST_ALARMS = 3;
/** Whose heat or fan is off its range, wherever in the rack: rows of fixtures may be on another page. */
const alarms = ({ batch }: Sight): readonly Line[] => {
  const all = batch.members.flatMap(({ session, serial }) => sensorAlarms(session.view, serial));
  const more = all.length - MOST_ALARMS;
  return [...all.slice(0, MOST_ALARMS), ...said(more > 0 ? `! ${more} more off their range.` : "", "alert")];
};

const together = ({ members }: RackNext): string =>
  members.length === 1 ? "One fixture:" : `${members.length} together:`;

const unclaimed = (stage: RackStageOf<"moving">): string => {
  const count = stage.unclaimed.length;
  return count === 0 ? "" : `Pressed ${timesInWords(count)}. You say which one after this step.`;
};

const letterRows = (sight: Sight, { wanted }: RackStageOf<"moving">): readonly Line[] => {
  const { plan, batch } = sight;
  if (batch.plan.asks === "who-moved")
    return said(
      `Watch which one moves. You say it afterwards. Repeat: ${anyOf(plan.again)}. Stop it all: ${anyOf(plan.stop)}.`,
    );
  const breaks = keyWords(plan.letters.away);
  return [
    ...reminderRows(sight),
    ...said(wanted ? "After this step: pause." : "", "strong"),
    ...said(
      `One differs: press its letter. Wrong letter, or area not clear: ${keyWords(plan.letters.undo)}. Not sure which: ${anyOf(plan.press)}.`,
    ),
    ...said(`Repeat: ${anyOf(plan.again)}. Pause: ${breaks}. Stop it all: ${anyOf(plan.stop)}.`),
  ];
};

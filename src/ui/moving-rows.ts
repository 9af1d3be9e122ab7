import { safeText } from "../domain/problem/terminal.ts";
import { type FunctionId, functionWords } from "../domain/trade/functions.ts";
import { ROUTINES } from "../domain/trade/routines.ts";
import type { CompiledStep } from "../plan/timeline.ts";
import type { Attempt } from "../run/events/attempts.ts";
import { isSilenceCounted } from "../run/session/flow.ts";
import { functionsInWords, stepAt, stepInWords } from "../run/session/job.ts";
import { MOST_SILENCE_S } from "../run/session/judging.ts";
import type { Session } from "../run/session/session.ts";
import { extentInWords } from "./extent.ts";
import { lastJudged } from "./judged-words.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import { functionNames, movingOf, seenPlace } from "./seen.ts";
import { sensorLines } from "./sensor-lines.ts";
import type { Moving, Sight } from "./sight.ts";
import type { Marked } from "./strip.ts";
import { conditionInWords, stepsAhead, timeLeftInWords } from "./time-words.ts";
import { soakRows } from "./together-rows.ts";
import { toldPlace } from "./told.ts";
import { atMost, BLANK, capital, type Line, legend, said } from "./view.ts";

/** The page while a step plays: what moves, from where to where, how far it is, what to watch for, what comes next. */
export const movingRows = (sight: Sight, stage: Moving): readonly Line[] => {
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

/** What moves in a step; when everything does, what is done. */
export const headlineOf = (step: CompiledStep): string =>
  step.functions.length > 0 ? functionsInWords(step) : ROUTINES[step.routine].words;

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

const MOST_STRIPS = 4;
const travelRows = (sight: Sight, stage: Moving): readonly Line[] => {
  const ids = stripsFor(sight, stage);
  const marks = ids.slice(0, MOST_STRIPS).map((id) => markOf(sight, stage, id));
  const others = ids.slice(MOST_STRIPS);
  return [
    ...(marks.length > 0 ? [{ kind: "strips", marks, detail: detailOf(ids) } as const] : []),
    ...(others.length > 0 ? said(`and ${functionNames(others)}`, "faint", 1) : []),
    ...(marks.length > 0 ? [legend(legendOf(sight, stage))] : []),
  ];
};

/** Nobody follows more than two of them so closely. */
const detailOf = (ids: readonly FunctionId[]) => (ids.length <= 2 ? "with the lag enlarged" : "plain");

/** The functions that have a strip: those under test; of the fixture as a whole pan and tilt stand for it. */
export const stripsFor = ({ seen, session }: Sight, { step }: Moving): readonly FunctionId[] =>
  step.functions.length > 0 || !seen
    ? step.functions
    : (["Pan", "Tilt"] as const).filter((id) => session.job.timeline.profile.functions.has(id));

/** While it homes, or plays its own test, nobody tells it anything. */
const NOWHERE = { share: undefined, words: "" };
const movesByItself = ({ step }: Moving) => step.routine === "power-up" || step.routine === "self-test";

/** Where a function is commanded to be in this frame, and where it is seen to be at a simulated fixture. */
export const markOf = ({ session, seen, frame }: Sight, stage: Moving, id: FunctionId): Marked => {
  const { profile } = session.job.timeline;
  const told = movesByItself(stage) ? NOWHERE : toldPlace(profile, stage.step, id, frame);
  return { label: functionWords(id), told, seen: seen && seenPlace(seen, id, profile, told) };
};

const legendOf = ({ seen }: Sight, stage: Moving): string => {
  if (!seen) return "| commanded position; only you can see the actual one";
  if (movesByItself(stage)) return "O actual";
  const lag = stage.step.functions.length <= 2 ? "    lag: the difference, enlarged" : "";
  return `O actual    | commanded${lag}`;
};

/**
 * What can be seen of a simulated fixture besides the functions under test, in place of eyes and ears. Always the same
 * number of rows, so that what is below does not jump.
 */
export const spectacleRows = ({ seen, at }: Sight, under: readonly FunctionId[]): readonly Line[] => {
  if (!seen) return [];
  const { sounds, light, display } = seen.spectacle;
  const moving = movingOf(seen, at).filter((id) => !under.includes(id));
  return [
    `You hear: ${sounds.length > 0 ? sounds.map(safeText).join(", ") : "nothing"}.`,
    `On the wall: ${safeText(light)}.  Display: ${display === "" ? "dark" : safeText(display)}.`,
    movesInWords(under, moving),
  ].flatMap((words) => atMost(1, said(words)));
};

const movesInWords = (under: readonly FunctionId[], moving: readonly FunctionId[]): string => {
  const names = functionNames(moving);
  if (under.length > 0) return names === "" ? "Nothing else moves." : `Also moving: ${names}.`;
  return names === "" ? "Nothing moves." : `Moving: ${names}.`;
};

/** How often was pressed in this step, in words; "" before the first press. */
export const pressesInWords = ({ view, job }: Session, { index }: Pick<Moving, "index">): string => {
  const presses = view.steps[index]?.presses ?? [];
  const { length: count } = presses;
  if (count === 0) return "";
  const late = presses.some(({ frame }) => frame >= stepAt(job, index).frames);
  return `Pressed ${count === 1 ? "once" : `${count} times`} in this step${late ? "; a press just after its end counts for it" : ""}.`;
};

const timeInWords = ({ session, frame }: Sight, stage: Moving): string => {
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

/** Which keys do what while a step plays, and a reminder where nobody has pressed for long. */
export const keysRows = (sight: Sight): readonly Line[] => {
  const { plan, desk, quiet, session } = sight;
  const handsOff = session.job.opening.mode === "hands-off";
  const silent = handsOff && isSilenceCounted(session) && quiet >= REMIND_AFTER_S;
  const waiting = desk.wanted
    ? `After this step: ${desk.wanted === "away" ? "pause, dark and still" : "it stands still"}.`
    : handsOff
      ? `Pause: ${keyWords(plan.letters.away)}. Stand still: ${keyWords(plan.letters.freeze)}. Both begin after this step.`
      : "";
  return [
    ...said(silent ? `! ${quiet >= MOST_SILENCE_S ? NOT_WATCHED : REMINDER}` : "", "alert"),
    ...said(waiting, desk.wanted ? "strong" : "faint", desk.wanted ? 2 : 1),
    ...said(`Something wrong: press ${anyOf(plan.press)}, each time it happens.`),
    ...said(
      `Repeat this step: ${anyOf(plan.again)}. Stop it all: ${anyOf(plan.stop)}. Area not clear: ${keyWords(plan.letters.undo)}.`,
    ),
  ];
};

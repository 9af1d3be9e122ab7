import { placeInWords } from "../data/rack/rack.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { ROUTINES } from "../domain/trade/routines.ts";
import { type Batch, memberAt, type RackStageOf } from "../run/batch/batch.ts";
import { stepOf } from "../run/batch/flow.ts";
import { functionsInWords, stepAt, stepInWords } from "../run/session/job.ts";
import { longestSilence, MOST_SILENCE_S } from "../run/session/judging.ts";
import type { Session, StageOf } from "../run/session/session.ts";
import { personRows } from "./foot-rows.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import type { AloneSight, Desk, Sight } from "./sight.ts";
import { headlineOf, timesInWords } from "./step-words.ts";
import { type AroundList, atMost, BLANK, capital, type Line, option, said, toAnswer } from "./view.ts";

/** The page that asks whether silent steps were watched: silence counts only when somebody says so. */
export const confirmingRows = (sight: AloneSight, { indexes }: StageOf<"confirming">): readonly Line[] => {
  const { session, plan, desk } = sight;
  const marked = desk.excepted.length;
  const uncovered = indexes.filter((index) => !wasThere(session, index));
  const { absent, undo, away } = plan.letters;
  return [
    ...said("You pressed nothing in these steps:"),
    ...silentOn(desk, indexes).map((at, digit) =>
      stepRow(session, indexes[at] ?? 0, digit + 1, desk.excepted.includes(at) ? "marked" : "not marked"),
    ),
    ...said(pagesOf(indexes) > 1 ? `0  more: page ${pageOn(desk, indexes) + 1} of ${pagesOf(indexes)}` : ""),
    BLANK,
    ...atMost(
      5,
      said(
        uncovered.length > 0
          ? `! No key for more than a minute: these steps do not count as watched, whatever you answer. ${namesOf(session, uncovered)}`
          : "",
        "alert",
      ),
    ),
    BLANK,
    ...toAnswer([
      ...said(marked > 0 ? allButWords(marked) : promiseWords(indexes.length, uncovered.length), "strong"),
      ...said(`${keyWords(absent)}: I did not watch them. None of these counts.`, "strong"),
    ]),
    ...said(
      `One was wrong: type its number${marked > 0 ? "; the same number again takes the mark away" : ""}. Undo the last answer: ${keyWords(undo)}. Pause: ${keyWords(away)}. Stop it all: ${anyOf(plan.stop)}.`,
    ),
    ...personRows(sight),
  ];
};

/** The promise says no more than what will be saved. */
const promiseWords = (all: number, uncovered: number): string => {
  if (uncovered === 0) return "ENTER: I watched all of these, nothing else was wrong.";
  return uncovered === all
    ? "ENTER: none of these counts. Continue."
    : `ENTER: I watched the other ${all - uncovered}, nothing else was wrong there; ${uncovered} do not count.`;
};

/** The others count as far as they were watched; what was wrong is asked of each that is marked. */
const allButWords = (marked: number): string =>
  marked === 1
    ? "ENTER: I watched these, all but the one marked was good. Then say what was wrong with it."
    : `ENTER: I watched these, all but the ${marked} marked were good. Then say what was wrong with each.`;

/** "Full sweep: pan; tilt. Jump and back: zoom.": what was done once, and with what. */
const namesOf = ({ job }: Session, indexes: readonly number[]): string => {
  const done = new Map<string, string[]>();
  for (const index of indexes) {
    const step = stepAt(job, index);
    const routine = ROUTINES[step.routine].words;
    done.set(routine, [...(done.get(routine) ?? []), functionsInWords(step)]);
  }
  return [...done].map(([routine, what]) => `${capital(routine)}: ${what.join("; ")}.`).join(" ");
};

const MOST_LISTED = 9;
const pagesOf = (indexes: readonly number[]): number => Math.max(1, Math.ceil(indexes.length / MOST_LISTED));
const pageOn = ({ page }: Pick<Desk, "page">, indexes: readonly number[]): number => page % pagesOf(indexes);

/**
 * Which of the silent steps are on the page that lies open, by their index in `indexes`, from 0: the first has the digit 1.
 * `indexes` are the silent steps' places in the run, from 0.
 */
export const silentOn = (desk: Pick<Desk, "page">, indexes: readonly number[]): readonly number[] => {
  const from = pageOn(desk, indexes) * MOST_LISTED;
  return indexes.map((_, at) => at).slice(from, from + MOST_LISTED);
};

const stepRow = ({ job }: Session, index: number, digit: number, mark: "marked" | "not marked"): Line => {
  const words = stepInWords(stepAt(job, index));
  return mark === "marked" ? option(digit, `${words} - marked as wrong`, "strong") : option(digit, words);
};

const wasThere = ({ group, signs, now }: Session, index: number): boolean => {
  const played = group.find((one) => one.index === index);
  // Up to this question too: nobody may have been there since the last key.
  return played !== undefined && longestSilence([...signs, now], played) <= MOST_SILENCE_S;
};

/** The page after a pass of several: silence counts only for what somebody says was watched, and letters take some out of it. */
export const confirmingOfAll = (sight: Sight, { members }: RackStageOf<"confirming">): AroundList => {
  const { batch, plan } = sight;
  const silent = members.map((index) => safeText(memberAt(batch, index).serial)).join(", ");
  const steps = Math.max(...members.map((index) => memberAt(batch, index).session.group.length));
  return {
    above: [
      ...said(`${silent}: no press in ${steps === 1 ? "one step" : `most or all of ${steps} steps`}.`),
      ...said("What ran for more than a minute without any key does not count as watched."),
    ],
    below: [
      ...toAnswer(said(`ENTER: ${watchedWords(batch, sight.desk)}.`, "strong")),
      ...said(
        `All but some: the letters of those you did not watch. Nobody was there: ${anyOf(plan.again)}. Pause: ${keyWords(plan.letters.away)}. Stop it all: ${anyOf(plan.stop)}.`,
      ),
    ],
  };
};

/** The words with which somebody confirms having watched: "I watched them", and what is left out of it. */
export const watchedWords = (batch: Batch, { excepted }: Desk): string =>
  excepted.length === 0
    ? "I watched them, nothing else differed"
    : `I watched them, all but ${excepted.map((index) => safeText(memberAt(batch, index).serial)).join(", ")}`;

/** The question for which fixture a press was meant. */
export const whichOfAll = (sight: Sight, stage: RackStageOf<"which">): AroundList => {
  const { batch, plan } = sight;
  if (batch.plan.asks === "who-moved") return whoMovedOfAll(sight, stage);
  const { next, presses, named } = stage;
  const names = named.map((index) => safeText(batch.members[index]?.serial ?? "")).join(", ");
  return {
    above: [
      ...said(`You pressed ${timesInWords(presses.length)} during ${headlineOf(stepOf(batch, next))}.`),
      ...said(names === "" ? "" : `Named: ${names}.`, "strong"),
    ],
    below: [
      ...said("Press its letter, or several letters if several differed.", "strong"),
      ...toAnswer(
        said(
          `ENTER: ${named.length === 0 ? "none of them" : "that is all"}, continue. Stop it all: ${anyOf(plan.stop)}.`,
        ),
      ),
    ],
  };
};

/** One was asked to move at its address: who did? */
const whoMovedOfAll = (sight: Sight, { next, named }: RackStageOf<"which">): AroundList => {
  const { batch, plan } = sight;
  const asked = memberAt(batch, next.members[0] ?? 0);
  const { universe, address } = asked.spot;
  const names = named.map((index) => safeText(memberAt(batch, index).serial)).join(", ");
  return {
    above: [
      ...said(
        `Universe ${universe}, address ${address}: by the file ${safeText(asked.serial)}, ${safeText(placeInWords(asked.place))}.`,
      ),
      ...said(names === "" ? "" : `Moved: ${names}.`, "strong"),
    ],
    below: [
      ...said("Press the letter of the one that moved, or several letters if several moved.", "strong"),
      ...toAnswer(said(`ENTER: ${named.length === 0 ? "nothing moved" : "that is all"}.`)),
      ...said(`Stop it all: ${anyOf(plan.stop)}.`),
    ],
  };
};

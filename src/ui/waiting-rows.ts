import { safeText } from "../domain/problem/terminal.ts";
import { ROUTINES } from "../domain/trade/routines.ts";
import { functionsInWords, type Next, stepAt, stepInWords } from "../run/session/job.ts";
import { longestSilence, MOST_SILENCE_S } from "../run/session/judging.ts";
import type { Session, StageOf } from "../run/session/session.ts";
import type { Desk } from "./desk.ts";
import { personRows } from "./foot-rows.ts";
import { isKept, resultsTally } from "./judged-words.ts";
import { anyOf, type KeyPlan, keyWords } from "./key-plan.ts";
import type { Sight } from "./sight.ts";
import { atMost, BLANK, capital, type Line, option, said, toAnswer } from "./view.ts";

/** The page that asks whether silent steps were watched: silence counts only when somebody says so. */
export const confirmingRows = (sight: Sight, { indexes }: StageOf<"confirming">): readonly Line[] => {
  const { session, plan, desk } = sight;
  const marked = desk.wrong.length;
  const uncovered = indexes.filter((index) => !wasThere(session, index));
  const { absent, undo, away } = plan.letters;
  return [
    ...said("You pressed nothing in these steps:"),
    ...silentOn(desk, indexes).map((at, digit) =>
      stepRow(session, indexes[at] ?? 0, digit + 1, desk.wrong.includes(at) ? "marked" : "not marked"),
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
      ...said(marked > 0 ? allButWords(marked) : watchedWords(indexes.length, uncovered.length), "strong"),
      ...said(`${keyWords(absent)}: I did not watch them. None of these counts.`, "strong"),
    ]),
    ...said(
      `One was wrong: type its number${marked > 0 ? "; the same number again takes the mark away" : ""}. Undo the last answer: ${keyWords(undo)}. Pause: ${keyWords(away)}. Stop it all: ${anyOf(plan.stop)}.`,
    ),
    ...personRows(sight),
  ];
};

/** The promise says no more than what will be saved. */
const watchedWords = (all: number, uncovered: number): string => {
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

/** The page of a break: the fixture is dark and stands still. */
export const pausedRows = (sight: Sight, { why, next }: StageOf<"paused">): readonly Line[] => {
  const { session, plan } = sight;
  const step = capital(stepInWords(stepAt(session.job, next.index)));
  return [
    ...said(
      why === "away"
        ? `The fixture is dark and stands still. ${step} starts again from its beginning.`
        : `The fixture is dark and stands still. ${step} continues from there.`,
    ),
    ...said("Before it moves you confirm the area. Then a slow movement comes first."),
    BLANK,
    ...toAnswer(said(`${keyWords(plan.own["go-on"])}: I am here, continue.`, "strong")),
    ...said(`Stop it all: ${anyOf(plan.stop)}.`),
    ...personRows(sight),
  ];
};

/** The page of a lost DMX line, and of one that is back. */
export const lossRows = (sight: Sight, { words, back, next, asked }: StageOf<"line-lost">): readonly Line[] => {
  const { session, plan } = sight;
  return [
    ...said(back ? `Why it was lost: ${safeText(words)}.` : `! ${safeText(words)}`, back ? "plain" : "alert"),
    BLANK,
    ...(back ? backRows(session, asked ? undefined : next) : LOST_ROWS),
    BLANK,
    ...toAnswer(
      said(back ? `${keyWords(plan.own["line-back"])}: I am here, the area is clear, continue.` : "", "strong"),
    ),
    ...said(`Stop it all: ${anyOf(plan.stop)}.`),
    ...personRows(sight),
  ];
};

const LOST_ROWS: readonly Line[] = said(
  "No data reaches the fixture now. It may hold its last state, lit or dark. Check plug, cable and interface. " +
    "Limber tries the line again every second.",
);

const HELD = "The line is back. The fixture is dark and holds its last commanded position.";

/** Where nothing had moved a question was open. */
const backRows = ({ job }: Session, next: Next | undefined): readonly Line[] =>
  said(
    next === undefined
      ? `${HELD} The open question comes again. A slow movement comes before anything else moves.`
      : `${HELD} A slow movement comes first. Then ${stepInWords(stepAt(job, next.index))} continues from the same place.`,
  );

/** The page of an interface that may be another than before: no frame was sent to it yet. */
export const strangerRows = (sight: Sight, { words }: StageOf<"other-interface">): readonly Line[] => {
  const { plan } = sight;
  return [
    ...said(`! ${safeText(words)}.`, "alert"),
    BLANK,
    ...strangerFacts("the fixture of this run"),
    BLANK,
    ...toAnswer(said(strangerAnswer(plan), "strong")),
    ...said(`Wrong one: plug in the right one, then ${anyOf(plan.again)}. Stop it all: ${anyOf(plan.stop)}.`),
    ...personRows(sight),
  ];
};

/** What to look at before another interface is used. `who` is what else would move: one fixture, or those of a rack. */
export const strangerFacts = (who: string): readonly Line[] => [
  ...said("Nothing is sent to this interface until you agree."),
  ...said(`Look which cable hangs on it: whatever listens there will move instead of ${who}.`),
];

/** How to agree to another interface, in words. */
export const strangerAnswer = (plan: KeyPlan): string =>
  `${keyWords(plan.own["other-interface"])}: this is the right interface, use it.`;

/** The last page of a run: how it ended, what came of the steps, and whether everything is saved. */
export const finishedRows = (sight: Sight, { how }: StageOf<"finished">): readonly Line[] => {
  const { session } = sight;
  const kept = isKept(session, session.view.count);
  return [
    ...said(HOW[how]),
    BLANK,
    ...said(`${resultsTally(session)}.`, "strong"),
    ...said(kept ? "Everything is saved." : "Not everything is saved yet."),
    BLANK,
    ...said("The fixture goes dark and stays where it is. The job sheet follows."),
  ];
};

const HOW = {
  finished: "All steps are answered.",
  stopped: "Stopped before the end. Your answers are saved; the other steps are not asked.",
  failed: "The run cannot continue. What is saved stays saved.",
} as const;

/** The page while faults are calculated. A second at most; keys wait as well. */
export const diagnosingRows = ({ plan }: Sight): readonly Line[] => [
  ...said("Limber calculates the likely faults. It continues by itself."),
  BLANK,
  ...said(`Stop it all: ${anyOf(plan.stop)}.`),
];

/** The page while the DMX line is being opened. */
export const openingRows = (): readonly Line[] => said("Opening the DMX line ...");

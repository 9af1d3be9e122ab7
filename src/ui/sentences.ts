import { safeText } from "../domain/problem/terminal.ts";
import { secondsOf } from "../domain/units.ts";
import { spanInWords } from "../reports/status-words.ts";
import { questionOf, type Session, type StageOf } from "../run/session/session.ts";
import { askingRows } from "./asking-rows.ts";
import { refusedLines } from "./foot-rows.ts";
import { headline } from "./headline.ts";
import { isKept, judgedInWords } from "./judged-words.ts";
import { anyOf } from "./key-plan.ts";
import { headlineOf, pressesInWords, whatMoves } from "./moving-rows.ts";
import { restInWords, stageLines } from "./page-view.ts";
import { symptomInWords } from "./pages.ts";
import { spotInWords } from "./placed-rows.ts";
import type { Moving, Sight } from "./sight.ts";
import { capital, type Line } from "./view.ts";

/** Sentences are as long as they are: whoever reads them aloud or keeps them in a file breaks no lines. */
export const UNBROKEN = { columns: 100_000, rows: 100_000 };

/** What lines say to somebody who hears them: nothing that is only to be seen, and how to answer once a key answers. */
export const sentencesOf = (lines: readonly Line[], listening: boolean): readonly string[] =>
  lines
    .flatMap((line) => {
      if (line.kind === "drawing") return line.words;
      if (line.kind !== "words" || line.role === "legend" || (line.role === "answer" && !listening)) return [];
      return [line.mark + line.text];
    })
    .map((text) => text.trim());

/** What has changed from one sight to the next, a sentence for each change. */
export const changesInWords = (before: Sight | undefined, now: Sight): readonly string[] => {
  const question = questionOf(now.session);
  const fresh =
    !before || question !== questionOf(before.session) || now.session.stage.kind !== before.session.stage.kind;
  return [
    ...(before ? keptInWords(before.session, now.session) : introduction(now)),
    ...(now.session.trouble && now.session.trouble !== before?.session.trouble
      ? [`Trouble: ${safeText(now.session.trouble)}`]
      : []),
    ...(fresh && restInWords(now.session) ? [restInWords(now.session)] : []),
    ...(now.refused && now.refused !== before?.refused ? sentencesOf(refusedLines(now), now.listening) : []),
    ...(now.notice && now.notice !== before?.notice ? [safeText(now.notice)] : []),
    ...(fresh ? stageInWords(now) : sameQuestion(before, now)),
  ];
};

const introduction = ({ session, plan }: Sight): readonly string[] => {
  const { opening, timeline, sequence } = session.job;
  return [
    `${opening.simulated ? "Simulated fixture" : "Fixture"} ${safeText(opening.fixture.serial)}: ${safeText(timeline.profile.title)}; ${safeText(sequence.title)}.`,
    `While it moves: something wrong: ${anyOf(plan.press)}. Repeat the step: ${anyOf(plan.again)}. Stop it all: ${anyOf(plan.stop)}.`,
  ];
};

const keptInWords = (before: Session, now: Session): readonly string[] =>
  now.view.steps.flatMap((step, index) =>
    step.judged && step.judged.result !== "not-fitted" && isKept(now, step.judgedBy) && !wasKept(before, now, index)
      ? [capital(judgedInWords(now, step, index))]
      : [],
  );

const wasKept = (before: Session, now: Session, index: number): boolean => {
  const step = before.view.steps[index];
  return (
    step?.judged !== undefined && step.judgedBy === now.view.steps[index]?.judgedBy && isKept(before, step.judgedBy)
  );
};

/** A new question, or a step that begins. */
const stageInWords = (now: Sight): readonly string[] => {
  const { stage } = now.session;
  if (stage.kind === "moving") return [movingInWords(now, stage)];
  return [headline(now).usual.toUpperCase(), ...sentencesOf(stageLines(now), now.listening)];
};

const movingInWords = ({ session }: Sight, stage: Moving): string => {
  const { step, index } = stage;
  const notes = step.notes.map((note) => ` ${safeText(note)}.`).join("");
  return (
    `Step ${index + 1} of ${session.job.timeline.steps.length}, ${headlineOf(step)}: ${whatMoves(session, stage)}. ` +
    `${spanInWords(secondsOf(step.frames))}. Watch for: ${safeText(step.watch)}.${notes}`
  );
};

const sameQuestion = (before: Sight, now: Sight): readonly string[] => {
  const { stage } = now.session;
  const old = before.session.stage;
  if (now.listening && !before.listening && stage.kind !== "moving") return newSentences(before, now);
  if (stage.kind === "moving" && old.kind === "moving") return pressedInWords(before, now, stage);
  if (stage.kind === "line-lost" && old.kind === "line-lost") return stage.back === old.back ? [] : stageInWords(now);
  if (stage.kind === "at-spot" && old.kind === "at-spot")
    return stage.spot === old.spot ? [] : [spotInWords(now, stage)];
  if (stage.kind === "by-hand") return newSentences(before, now);
  return stage.kind === "asking" && old.kind === "asking" ? answeredInWords(before, old, now, stage) : [];
};

/** What is new on a page that asks the same question: what was filled in, and how to answer once an answer is taken. */
const newSentences = (before: Sight, now: Sight): readonly string[] => {
  const told = stageInWords(before);
  return stageInWords(now).filter((sentence) => !told.includes(sentence));
};

/** What was named, noted or leafed to since. */
const answeredInWords = (
  before: Sight,
  old: StageOf<"asking">,
  now: Sight,
  stage: StageOf<"asking">,
): readonly string[] => [
  ...pressedInWords(before, now, stage),
  ...(stage.symptoms === old.symptoms
    ? []
    : [stage.symptoms.length === 0 ? "Nothing named." : `Named: ${stage.symptoms.map(symptomInWords).join("; ")}.`]),
  ...(stage.note === old.note ? [] : [`Note: ${safeText(stage.note)}`]),
  ...(leafed(before, now) ? sentencesOf(askingRows(now, stage).filter(isListed), now.listening) : []),
];

const pressedInWords = (before: Sight, now: Sight, stage: Pick<Moving, "index">): readonly string[] => {
  const words = pressesInWords(now.session, stage);
  return words === pressesInWords(before.session, stage) ? [] : [words];
};

const leafed = ({ desk: before }: Sight, { desk }: Sight): boolean =>
  desk.page !== before.page || desk.about !== before.about || desk.choosing !== before.choosing;

/** The list itself, without the rest of the page. */
const isListed = (line: Line): boolean => line.kind === "words" && (line.role === "option" || line.role === "heading");

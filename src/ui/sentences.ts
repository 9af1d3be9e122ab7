import { placeInWords } from "../data/rack/rack.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { functionWords } from "../domain/trade/functions.ts";
import { secondsOf } from "../domain/units.ts";
import { spanInWords } from "../reports/status-words.ts";
import { type Batch, lookedAtAlone, memberAt, rackQuestionOf } from "../run/batch/batch.ts";
import type { Session, StageOf } from "../run/session/session.ts";
import { askingRows } from "./asking-rows.ts";
import { fixtureKeys, letterOf } from "./fixture-keys.ts";
import { fixturesInWords, stateOf } from "./fixture-rows.ts";
import { ENTRIES, refusedLines } from "./foot-rows.ts";
import { headline } from "./headline.ts";
import { anyOf } from "./key-plan.ts";
import { pressesInWords, whatMoves } from "./moving-rows.ts";
import { linesOf, noticeIn, restIn, troubleIn } from "./page-view.ts";
import { spotInWords } from "./placed-rows.ts";
import type { Seen } from "./seen.ts";
import { type AloneSight, aloneIn, type Moving, type Sight, stageIn } from "./sight.ts";
import { headlineOf, isKept, judgedInWords } from "./step-words.ts";
import { symptomInWords } from "./symptom-pages.ts";
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
export const changesInWords = (last: Sight | undefined, now: Sight): readonly string[] => {
  const before = last && lookedAtAlone(last.batch)?.run === lookedAtAlone(now.batch)?.run ? last : undefined;
  const [old, alone] = [before && aloneIn(before), aloneIn(now)];
  const fresh = !before || rackQuestionOf(before.batch) !== rackQuestionOf(now.batch) || kindOf(before) !== kindOf(now);
  return [
    ...(alone ? aboutFixture(old, alone) : []),
    ...changed(troubleIn, before, now).map((words) => `Trouble: ${words}`),
    ...(fresh ? changed(restIn, undefined, now) : []),
    ...changed(refusedIn, before, now),
    ...changed(noticeIn, before, now),
    ...(fresh ? pageInWords(now) : sameQuestion(before, now)),
    ...(alone ? spectacleChanges(old, alone) : differing(last?.batch, now.batch)),
    ...typedWords(before, now),
  ];
};

/** What a sight says, where it did not say the same before. */
const changed = (words: (sight: Sight) => string, before: Sight | undefined, now: Sight): readonly string[] => {
  const is = words(now);
  return is === "" || (before && words(before) === is) ? [] : [is];
};

const refusedIn = (sight: Sight): string => sentencesOf(refusedLines(sight), sight.listening).join(" ");
const aboutFixture = (before: AloneSight | undefined, now: AloneSight): readonly string[] =>
  before ? keptInWords(before.session, now.session) : introduction(now);

const kindOf = ({ batch }: Sight) => stageIn(batch).kind;

const introduction = ({ session, plan }: AloneSight): readonly string[] => {
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
const pageInWords = (now: Sight): readonly string[] => {
  const alone = aloneIn(now);
  if (alone?.session.stage.kind === "moving") return [movingInWords(alone, alone.session.stage)];
  const lines = sentencesOf(linesOf(now), now.listening);
  const fixtures = alone ? [] : [...fixturesInWords(now.batch), ...lettersInWords(now)];
  return [headline(now).usual.toUpperCase(), ...lines, ...fixtures];
};

const movingInWords = ({ session }: AloneSight, stage: Moving): string => {
  const { step, index } = stage;
  const notes = step.notes.map((note) => ` ${safeText(note)}.`).join("");
  return (
    `Step ${index + 1} of ${session.job.timeline.steps.length}, ${headlineOf(step)}: ${whatMoves(session, stage)}. ` +
    `${spanInWords(secondsOf(step.frames))}. Watch for: ${safeText(step.watch)}.${notes}`
  );
};

/** Which letter names which fixture now. */
const lettersInWords = ({ batch, desk, plan }: Sight): readonly string[] => {
  const keys = [...fixtureKeys(batch, desk, plan)].map(
    ([index]) => `${letterOf(index, plan).label} ${safeText(placeInWords(memberAt(batch, index).place))}`,
  );
  return keys.length > 0 ? [`Letters: ${keys.join("; ")}.`] : [];
};

const sameQuestion = (before: Sight, now: Sight): readonly string[] => {
  const [old, alone] = [aloneIn(before), aloneIn(now)];
  if (now.listening && !before.listening && kindOf(now) !== "moving") return newSentences(before, now);
  return old && alone ? sameOfOne(old, alone) : [];
};

const sameOfOne = (before: AloneSight, now: AloneSight): readonly string[] => {
  const { stage } = now.session;
  const old = before.session.stage;
  if (stage.kind === "moving" && old.kind === "moving") return pressedInWords(before, now, stage);
  if (stage.kind === "line-lost" && old.kind === "line-lost") return stage.back === old.back ? [] : pageInWords(now);
  if (stage.kind === "at-spot" && old.kind === "at-spot")
    return stage.spot === old.spot ? [] : [spotInWords(now, stage)];
  if (stage.kind === "by-hand") return newSentences(before, now);
  return stage.kind === "asking" && old.kind === "asking" ? answeredInWords(before, old, now, stage) : [];
};

/** What is new on a page that asks the same question: what was filled in, and how to answer once an answer is taken. */
const newSentences = (before: Sight, now: Sight): readonly string[] => {
  const told = pageInWords(before);
  return pageInWords(now).filter((sentence) => !told.includes(sentence));
};

/** What was named, noted or leafed to since. */
const answeredInWords = (
  before: AloneSight,
  old: StageOf<"asking">,
  now: AloneSight,
  stage: StageOf<"asking">,
): readonly string[] => [
  ...pressedInWords(before, now, stage),
  ...(stage.symptoms === old.symptoms
    ? []
    : [stage.symptoms.length === 0 ? "Nothing named." : `Named: ${stage.symptoms.map(symptomInWords).join("; ")}.`]),
  ...(stage.note === old.note ? [] : [`Note: ${safeText(stage.note)}`]),
  ...(leafed(before, now) ? sentencesOf(askingRows(now, stage).filter(isListed), now.listening) : []),
];

const pressedInWords = (before: AloneSight, now: AloneSight, stage: Pick<Moving, "index">): readonly string[] => {
  const words = pressesInWords(now.session, stage);
  return words === pressesInWords(before.session, stage) ? [] : [words];
};

const leafed = ({ desk: before }: Sight, { desk }: Sight): boolean =>
  desk.page !== before.page || desk.about !== before.about || desk.choosing !== before.choosing;

/** The list itself, without the rest of the page. */
const isListed = (line: Line): boolean => line.kind === "words" && (line.role === "option" || line.role === "heading");

/** Of several: who was pressed for, taken out or cut off since. */
const differing = (before: Batch | undefined, now: Batch): readonly string[] => {
  if (!before) return [];
  return now.members.flatMap((member, index) => {
    const [was, is] = [pressesOf(before, index), pressesOf(now, index)];
    const states = [before.members[index] ? stateOf(before, index) : "", stateOf(now, index)];
    const name = `${safeText(placeInWords(member.place))}, ${safeText(member.serial)}`;
    if (is > was) return [`${name}: pressed.`];
    return SAID.includes(states[1] ?? "") && states[0] !== states[1] ? [`${name}: ${states[1]}.`] : [];
  });
};
const SAID: readonly string[] = ["withdrawn", "line lost"];

const pressesOf = (batch: Batch, index: number): number =>
  batch.members[index]?.session.view.steps.reduce((sum, { presses }) => sum + presses.length, 0) ?? 0;

/** A text that is being typed: what it is, and how it is saved. */
const typedWords = (before: Sight | undefined, { desk }: Sight): readonly string[] => {
  const old = before?.desk.entry;
  const { entry } = desk;
  if (!entry || old) return [];
  const what = ENTRIES[entry.what].replace(/^[A-Z]/, (first) => first.toLowerCase());
  return [`Type ${what}; ENTER saves it, ESCAPE cancels.`];
};

/**
 * What can be seen and heard of the simulated fixture now and could not before, in sentences. Travel
 * is not told: it changes all the time.
 */
const spectacleChanges = (before: AloneSight | undefined, now: AloneSight): readonly string[] => {
  const [old, seen] = [before?.seen?.spectacle, now.seen?.spectacle];
  if (!seen || seen === old) return [];
  const { sounds, light, display } = seen;
  return [
    ...(sounds.join() === (old?.sounds.join() ?? "")
      ? []
      : [sounds.length > 0 ? `You hear: ${sounds.map(safeText).join(", ")}.` : "It is quiet."]),
    ...(light === old?.light ? [] : [`On the wall: ${safeText(light)}.`]),
    ...(display === (old?.display ?? "") ? [] : [`Display: ${display === "" ? "dark" : safeText(display)}.`]),
    ...partChanges(old, seen),
  ];
};

type SeenSpectacle = Seen["spectacle"];

/** "colour wheel: red": words, not figures. */
const partChanges = (old: SeenSpectacle | undefined, { parts }: SeenSpectacle): readonly string[] =>
  parts.flatMap((part) => {
    const was = old?.parts.find((one) => one.function === part.function)?.words ?? "";
    if (part.words === was || /\d/.test(part.words + was)) return [];
    return part.words === "" ? [] : [`${functionWords(part.function)}: ${safeText(part.words)}.`];
  });

import { timedWords } from "../diagnosis/places/stopwatch.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import type { FunctionId } from "../domain/trade/functions.ts";
import { symptomWords } from "../domain/trade/symptoms.ts";
import type { ReportedSymptom } from "../run/events/event.ts";
import { timedAt } from "../run/events/step-results.ts";
import { answeredWith } from "../run/session/flow.ts";
import { knownIn, stepAt, stepInWords } from "../run/session/job.ts";
import type { Session } from "../run/session/session.ts";
import { entryRows } from "./foot-rows.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import { pressesInWords } from "./moving-rows.ts";
import { AT_A_TIME, askingPage, type OpenPage } from "./question-keys.ts";
import type { AloneSight, AskingStage } from "./sight.ts";
import { lastJudged, stepsAhead } from "./step-words.ts";
import { aboutInWords, aboutsOf, MOST, symptomInWords } from "./symptom-pages.ts";
import { BLANK, capital, heading, type Line, option, said, toAnswer, type Words } from "./view.ts";

/** The question what was seen in a step that is over. */
export const askingRows = (sight: AloneSight, stage: AskingStage): readonly Line[] => {
  const { session } = sight;
  const step = stepAt(session.job, stage.index);
  return [
    ...said([`${capital(stepInWords(step))}.`, pressesInWords(session, stage), left(sight)].filter(Boolean).join(" ")),
    ...said(alsoInWords(session, stage)),
    ...timedRows(sight, stage),
    ...said(`You were checking: ${safeText(step.watch)}.`, "faint", 0),
    BLANK,
    ...listRows(sight, stage),
    BLANK,
    ...saidRows(sight, stage),
    ...toAnswer(answersRows(sight, stage)),
    ...restRows(sight, stage),
  ];
};

/** What else the answer "nothing was wrong" stands for; "" where it stands for this step only. */
export const alsoInWords = (session: Session, { index }: AskingStage): string => {
  const others = answeredWith(session, index).map((played) => stepInWords(stepAt(session.job, played.index)));
  return others.length === 0 ? "" : `And then: ${others.join("; ")}.`;
};

/** How long it took, where it was timed. */
const timedRows = ({ session }: AloneSight, { index }: AskingStage): readonly Line[] => {
  const timed = timedAt(session.view, session.job.timeline.profile, index, knownIn(session));
  return (timed?.times ?? []).flatMap((one) => said(`${capital(timedWords(one))}.`, "strong"));
};

const left = ({ session }: AloneSight): string =>
  session.cleared ? "" : "Before it moves again you confirm the area.";

const listRows = (sight: AloneSight, stage: AskingStage): readonly Line[] => {
  const { session, desk } = sight;
  const abouts = aboutsOf(session.job, stage.index);
  return desk.choosing === undefined
    ? symptomRows(askingPage(desk, session, stage), stage, otherFunctions(desk, abouts))
    : functionRows(abouts, desk.choosing);
};

const symptomRows = (page: OpenPage, stage: AskingStage, others: string): readonly Line[] => [
  heading(`Symptoms of ${aboutInWords(page.about)}:`),
  ...page.symptoms.map((symptom, at) => {
    const named = stage.symptoms.some((one) => one.symptom === symptom && one.function === page.about);
    return option(at + 1, `${symptomWords(symptom)}${named ? "  <- named" : ""}`, named ? "strong" : "plain");
  }),
  option(0, `more symptoms: page ${page.number} of ${page.pages}${others}`),
];

const otherFunctions = ({ about }: AloneSight["desk"], abouts: readonly (FunctionId | undefined)[]): string => {
  if (abouts.length < 2) return "";
  return abouts.length > AT_A_TIME
    ? "; TAB: choose another function"
    : `; TAB: symptoms of ${aboutInWords(abouts[(about + 1) % abouts.length])}`;
};

const functionRows = (abouts: readonly (FunctionId | undefined)[], choosing: number): readonly Line[] => [
  heading("Which function?"),
  ...abouts.slice(choosing * MOST, (choosing + 1) * MOST).map((about, at) => option(at + 1, aboutInWords(about))),
  ...(abouts.length > MOST ? [option(0, `more: page ${choosing + 1} of ${Math.ceil(abouts.length / MOST)}`)] : []),
  ...said("TAB: back to the symptoms"),
];

/** What has been said so far, or is being typed. */
const saidRows = ({ desk }: AloneSight, stage: AskingStage): readonly Line[] => {
  if (desk.entry) return entryRows(desk.entry);
  return [
    ...said(stage.symptoms.length > 0 ? `Named: ${listed(stage.symptoms)}.` : "", "strong"),
    ...said(stage.note === "" ? "" : `Note: ${safeText(stage.note)}`),
  ];
};

const listed = (symptoms: readonly ReportedSymptom[]): string => symptoms.map(symptomInWords).join("; ");

const answersRows = ({ session, plan }: AloneSight, stage: AskingStage): readonly Words[] => {
  const both = alsoInWords(session, stage) === "" ? "" : " in either";
  const presses = session.view.steps[stage.index]?.presses.length ?? 0;
  const { good, failed, unsure } = plan.letters;
  const others = (pressed: boolean) =>
    `${pressed ? `${keyWords(good)}: nothing was wrong.` : `${keyWords(unsure)}: unsure.`} ${keyWords(failed)}: failed, but with none of these.`;
  if (stage.symptoms.length > 0) return said("ENTER: it failed, with the symptoms named.", "strong");
  const enter = presses > 0 ? "ENTER: unsure." : `ENTER: nothing was wrong${both}.`;
  return said(`${enter} Or type the number of the symptom. ${others(presses > 0)}`, "strong");
};

const restRows = ({ session, plan }: AloneSight, stage: AskingStage): readonly Line[] => {
  const { slower, back, note, undo, away, person } = plan.letters;
  const [next] = stepsAhead(session, stage.index);
  const before = lastJudged(session);
  return [
    ...said(
      `Repeat the step: ${anyOf(plan.again)}, slower: ${keyWords(slower)}. Step before: ${keyWords(back)}. ` +
        `Note: ${keyWords(note)}. Undo: ${keyWords(undo)}. Pause: ${keyWords(away)}. ` +
        `Other person: ${keyWords(person)}. Stop it all: ${anyOf(plan.stop)}.`,
    ),
    ...said(next ? `Next: ${stepInWords(next)}.` : "", "faint", 0),
    ...said(before ? `Before: ${before}` : "", "faint", 0),
  ];
};

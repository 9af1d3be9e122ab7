import { answerInWords } from "../../data/rack/what-moved.ts";
import { timedWords } from "../../diagnosis/places/stopwatch.ts";
import { sayAssessment } from "../../diagnosis/places/words.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { functionWords } from "../../domain/trade/functions.ts";
import { spanInWords } from "../../reports/status-words.ts";
import { stepOf, turnOf } from "../../run/batch/flow.ts";
import { timedAt } from "../../run/events/step-results.ts";
import type { PhoneLine } from "../../run/phone/message.ts";
import { knownIn, stepAt, stepInWords } from "../../run/session/job.ts";
import type { Session, StageOf } from "../../run/session/session.ts";
import { alsoInWords } from "../asking-rows.ts";
import { groundSentences } from "../finding-rows.ts";
import { fixturesInWords } from "../fixture-rows.ts";
import { pointsInWords } from "../holding-rows.ts";
import { pressesInWords, whatMoves } from "../moving-rows.ts";
import { aroundList } from "../page-view.ts";
import { spotInWords } from "../placed-rows.ts";
import { functionNames, movingOf } from "../seen.ts";
import type { AloneSight, AskingStage, Moving, Sight } from "../sight.ts";
import {
  conditionInWords,
  isKept,
  lastJudged,
  leftOfStep,
  resultsTally,
  stepsAhead,
  timeLeftInWords,
} from "../step-words.ts";
import { symptomInWords } from "../symptom-pages.ts";
import { capital } from "../view.ts";
import { handLines } from "./hand-lines.ts";

/** The sentences of the page on a phone, for one fixture: what the screen says, without its keys. */
export const linesOf = (sight: AloneSight): readonly PhoneLine[] => {
  const { session } = sight;
  const { stage } = session;
  switch (stage.kind) {
    case "moving":
      return movingLines(sight, stage);
    case "asking":
      return askingLines(session, stage);
    case "stirring":
      return [
        line(`${capital(functionWords(stage.ask))} alone is commanded to move a little. What moves?`, "strong"),
        ...seenLines(sight, []),
      ];
    case "what-moved":
      return [
        line(`${capital(functionWords(stage.ask))} was commanded to move. What moved?`),
        ...stage.answers.map((answer) => line(`${capital(answerInWords(answer))}.`, "faint")),
      ];
    case "setting-found":
      return settingLines(stage);
    case "placed":
      return placedLines(stage);
    case "at-spot":
      return [
        line(spotInWords(sight, stage), "strong"),
        line("Look and listen from outside the swing. Nobody reaches in."),
        ...seenLines(sight, [stage.spot.function]),
      ];
    case "by-hand":
      return handLines(session, stage.task);
    case "what-next":
      return [
        ...(stage.change === "" ? [] : [line(stage.change)]),
        ...groundSentences(stage.ground).map((sentence) => line(sentence.replace(/:$/, "."))),
      ];
    default:
      return waitingLines(session, stage);
  }
};

type WaitingStage = StageOf<
  | "holding"
  | "slow-start"
  | "diagnosing"
  | "confirming"
  | "paused"
  | "line-lost"
  | "other-interface"
  | "finished"
  | "opening"
>;

/** Where something is waited for, or confirmed before it goes on. */
const waitingLines = (session: Session, stage: WaitingStage): readonly PhoneLine[] => {
  switch (stage.kind) {
    case "holding":
      return holdingLines(session, stage);
    case "slow-start":
      return [
        line("Pan and tilt move a little and back, slowly and dark, for 3 seconds."),
        line("Stand clear.", "strong"),
        ...nextLines(session, stage.next.index, "Then"),
      ];
    case "diagnosing":
      return [line("Limber calculates the likely faults. It continues by itself.")];
    case "confirming":
      return [
        line("You pressed nothing in these steps:"),
        ...stage.indexes.map((index) => line(capital(stepInWords(stepAt(session.job, index))))),
      ];
    case "paused":
      return pausedLines(session, stage);
    case "line-lost":
      return lossLines(stage);
    case "other-interface":
      return [
        line(`${safeText(stage.words)}.`, "alert"),
        line("Nothing is sent to this interface until you agree."),
        line("Check which cable is on it: whatever listens there will move instead of the fixture of this run."),
      ];
    case "finished":
      return [
        line(`${resultsTally(session)}.`, "strong"),
        line(isKept(session, session.view.count) ? "Everything is saved." : "Not everything is saved yet."),
        line("The fixture goes dark and stays where it is."),
      ];
    case "opening":
      return [line("Opening the DMX line ...")];
    default:
      return stage satisfies never;
  }
};

const line = (text: string, look: PhoneLine["look"] = "plain"): PhoneLine => ({ text, look });
const lines = (text: string, look: PhoneLine["look"] = "plain"): readonly PhoneLine[] =>
  text === "" ? [] : [line(text, look)];

const movingLines = (sight: AloneSight, stage: Moving): readonly PhoneLine[] => {
  const { session, frame } = sight;
  return [
    line(`Watch for: ${safeText(stage.step.watch)}.`, "strong"),
    line(`${capital(whatMoves(session, stage))}.`),
    ...stage.step.notes.map((note) => line(safeText(note), "faint")),
    ...lines(conditionInWords(session, stage, frame)),
    line(timeLeftInWords(session, stage, frame)),
    ...lines(pressesInWords(session, stage), "strong"),
    ...seenLines(sight, stage.step.functions),
    ...nextLines(session, stage.index, "Next"),
  ];
};

/** What can be seen and heard of a simulated fixture, in place of eyes and ears. */
const seenLines = ({ seen, at }: AloneSight, under: Parameters<typeof functionNames>[0]): readonly PhoneLine[] => {
  if (!seen) return [];
  const { sounds, light, display } = seen.spectacle;
  const also = movingOf(seen, at).filter((id) => !under.includes(id));
  return [
    line(`You hear: ${sounds.length > 0 ? sounds.map(safeText).join(", ") : "nothing"}.`),
    line(`On the wall: ${safeText(light)}. Display: ${display === "" ? "dark" : safeText(display)}.`),
    line(also.length > 0 ? `Also moving: ${functionNames(also)}.` : "Nothing else moves."),
  ];
};

const nextLines = (session: Session, index: number, word: "Next" | "Then"): readonly PhoneLine[] => {
  if (word === "Then") return [line(`Then: ${stepInWords(stepAt(session.job, index))}.`)];
  const [next] = stepsAhead(session, index);
  return [line(next ? `Next: ${stepInWords(next)}.` : "This is the last step.", "faint")];
};

const askingLines = (session: Session, stage: AskingStage): readonly PhoneLine[] => {
  const step = stepAt(session.job, stage.index);
  const timed = timedAt(session.view, session.job.timeline.profile, stage.index, knownIn(session));
  const before = lastJudged(session);
  return [
    line(`${capital(stepInWords(step))}. ${pressesInWords(session, stage)}`.trim()),
    ...lines(alsoInWords(session, stage)),
    ...(timed?.times ?? []).map((one) => line(`${capital(timedWords(one))}.`, "strong")),
    line(`You were checking: ${safeText(step.watch)}.`, "faint"),
    ...lines(stage.symptoms.length > 0 ? `Named: ${stage.symptoms.map(symptomInWords).join("; ")}.` : "", "strong"),
    ...lines(stage.note === "" ? "" : `Note: ${safeText(stage.note)}`),
    ...lines(before === "" ? "" : `Before: ${before}`, "faint"),
  ];
};

const holdingLines = (session: Session, { point, next }: StageOf<"holding">): readonly PhoneLine[] => [
  ...pointsInWords(session, point).map((words) => line(`${capital(words.replace(/\.$/, ""))}.`)),
  ...nextLines(session, next.index, "Then"),
];

const MOST_EXPLANATIONS = 3;
const settingLines = ({ conclusion }: StageOf<"setting-found">): readonly PhoneLine[] => {
  const { settled, explanations } = conclusion;
  const found = settled ? [settled] : explanations.slice(0, MOST_EXPLANATIONS);
  return [
    line(found.length === 0 ? "No setting explains this. Look at the data." : settled ? "Most likely:" : "It may be:"),
    ...found.map(({ words }) => line(safeText(words), "strong")),
    line("Correct it at the fixture's panel and step back."),
  ];
};

const placedLines = ({ function: id, assessment, faults }: StageOf<"placed">): readonly PhoneLine[] => {
  const [first, ...others] = faults;
  const after = others.map(({ title, belief }) => `${title} (${belief})`).join("; ");
  return [
    line(`${sayAssessment(id, assessment).map(capital).join(". ")}.`, "strong"),
    ...lines(first ? `${capital(first.belief)} now: ${safeText(first.title)}.` : "", "strong"),
    ...lines(after === "" ? "" : `Then: ${safeText(after)}.`),
  ];
};

const pausedLines = (session: Session, { why, next }: StageOf<"paused">): readonly PhoneLine[] => {
  const step = capital(stepInWords(stepAt(session.job, next.index)));
  return [
    line("The fixture is dark and stands still."),
    line(why === "away" ? `${step} starts again from its beginning.` : `${step} continues from there.`),
    line("Before it moves you confirm the area. Then a slow movement comes first."),
  ];
};

const lossLines = ({ words, back }: StageOf<"line-lost">): readonly PhoneLine[] =>
  back
    ? [
        line(`Why it was lost: ${safeText(words)}.`),
        line(
          "The line is back. The fixture is dark and holds its last commanded position. A slow movement comes first.",
        ),
      ]
    : [
        line(safeText(words), "alert"),
        line(
          "No data reaches the fixture now. It may hold its last state, lit or dark. Limber tries the line again every second.",
        ),
      ];

/** The sentences of the page on a phone, for several fixtures: what stands above the screen's keys, in fewer words while they move. */
export const linesOfAll = (sight: Sight): readonly PhoneLine[] => {
  const { batch, frame } = sight;
  const { stage } = batch;
  if (stage.kind === "moving" || stage.kind === "slow-start") {
    const step = stepOf(batch, stage.next);
    const group = capital(safeText(turnOf(batch, stage.next).name));
    return stage.kind === "moving"
      ? [
          line(`${frame < step.leadIn ? "It moves to the start. " : ""}Watch for: ${safeText(step.watch)}.`, "strong"),
          line(`${group}, ${stage.next.members.length} together. ${spanInWords(leftOfStep(step, frame))} left.`),
          line(stage.unclaimed.length > 0 ? `Pressed ${stage.unclaimed.length}. You say which one after this.` : ""),
          line(stage.wanted ? "After this step: pause." : "", "strong"),
        ].filter(({ text }) => text !== "")
      : [line(`${group}: pan and tilt move a little, slowly and dark.`), line("Stand clear.", "strong")];
  }
  return [
    ...aroundList(sight).above.flatMap((one) => (one.kind === "words" ? [line(one.mark + one.text, one.look)] : [])),
    ...fixturesInWords(batch).map((words) => line(words)),
  ];
};
